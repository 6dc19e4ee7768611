import { describe, expect, test } from 'vitest';
import { hexToLinear, linearToOklab, oklabToLinear, type LinearRgb } from './oklab.ts';
import { colorOf } from './inks.ts';
import { pressureRamp, shareOf } from './pressure-ramp.ts';

/** CIELAB of linear sRGB. Source: CIE 15:2004, white point D65, matrix of IEC 61966-2-1. */
function cielab([r, g, b]: LinearRgb): [number, number, number] {
  const f = (t: number): number => (t > 216 / 24389 ? Math.cbrt(t) : ((24389 / 27) * t + 16) / 116);
  const x = f((0.4124564 * r + 0.3575761 * g + 0.1804375 * b) / 0.95047);
  const y = f(0.2126729 * r + 0.7151522 * g + 0.072175 * b);
  const z = f((0.0193339 * r + 0.119192 * g + 0.9503041 * b) / 1.08883);
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}

type Matrix = readonly [LinearRgb, LinearRgb, LinearRgb];
/**
 * Full colour blindness on linear RGB. Source: Machado, Oliveira, Fernandes, "A physiologically-based model for
 * simulation of color vision deficiency", 2009, tables for severity 1.0.
 */
const DEUTERANOPIA: Matrix = [
  [0.367322, 0.860646, -0.227968],
  [0.280085, 0.672501, 0.047413],
  [-0.01182, 0.04294, 0.968881],
];
const PROTANOPIA: Matrix = [
  [0.152286, 1.052583, -0.204868],
  [0.114503, 0.786281, 0.099216],
  [-0.003882, -0.048116, 1.051998],
];

function seenBy(matrix: Matrix, rgb: LinearRgb): LinearRgb {
  const row = (m: LinearRgb): number =>
    Math.min(1, Math.max(0, m[0] * rgb[0] + m[1] * rgb[1] + m[2] * rgb[2]));
  return [row(matrix[0]), row(matrix[1]), row(matrix[2])];
}

function apart(p: readonly number[], q: readonly number[]): number {
  return Math.hypot(...p.map((x, i) => x - q[i]!));
}

const STEPS = 8;
const colours = Array.from({ length: STEPS + 1 }, (_, i) => hexToLinear(pressureRamp(i / STEPS)));
const steps = (points: readonly (readonly number[])[]): number[] =>
  points.slice(1).map((point, i) => apart(point, points[i]!));

describe('pressure ramp', () => {
  test('is a colour for every share and holds its ends outside', () => {
    for (let i = 0; i <= 100; i++) expect(pressureRamp(i / 100)).toMatch(/^#[0-9a-f]{6}$/);
    expect(pressureRamp(-3)).toBe(pressureRamp(0));
    expect(pressureRamp(7)).toBe(pressureRamp(1));
    expect(pressureRamp(0)).not.toBe(pressureRamp(1));
    expect(() => pressureRamp(NaN)).toThrow(RangeError);
  });

  test('darkens all the way, in OKLab and in CIELAB', () => {
    for (let i = 1; i <= 256; i++) {
      const before = hexToLinear(pressureRamp((i - 1) / 256));
      const after = hexToLinear(pressureRamp(i / 256));
      expect(linearToOklab(after).lightness).toBeLessThan(linearToOklab(before).lightness + 0.002);
    }
    for (let i = 1; i < colours.length; i++) {
      expect(cielab(colours[i]!)[0]).toBeLessThan(cielab(colours[i - 1]!)[0] - 3);
    }
  });

  test('steps look even: within 6 percent in OKLab', () => {
    const sizes = steps(
      colours.map((rgb) => {
        const { lightness, a, b } = linearToOklab(rgb);
        return [lightness, a, b];
      }),
    );
    const mean = sizes.reduce((sum, size) => sum + size, 0) / sizes.length;
    for (const size of sizes) expect(Math.abs(size / mean - 1)).toBeLessThan(0.06);
  });

  test.each([
    ['deuteranopia', DEUTERANOPIA],
    ['protanopia', PROTANOPIA],
  ] as const)('with %s neighbouring steps stay apart and darken', (_, matrix) => {
    const seen = colours.map((rgb) => cielab(seenBy(matrix, rgb)));
    // A difference of about 2.3 in CIELAB is just noticeable (Mahy, Van Eycken, Oosterlinck 1994).
    for (const size of steps(seen)) expect(size).toBeGreaterThan(2.3 * 2);
    for (let i = 1; i < seen.length; i++) expect(seen[i]![0]).toBeLessThan(seen[i - 1]![0]);
  });

  test('stays inside the sRGB gamut, so nothing is clipped', () => {
    for (let i = 0; i <= 64; i++) {
      for (const c of hexToLinear(pressureRamp(i / 64))) {
        expect(c).toBeGreaterThanOrEqual(0);
        expect(c).toBeLessThan(1);
      }
    }
    const white = linearToOklab([1, 1, 1]);
    expect(white.lightness).toBeCloseTo(1, 6);
    expect(white.a).toBeCloseTo(0, 6);
    const there = linearToOklab([0.2, 0.5, 0.7]);
    oklabToLinear(there).forEach((c, i) => expect(c).toBeCloseTo([0.2, 0.5, 0.7][i]!, 6));
  });

  test('its lightest colour stands off the paper', () => {
    const paper = cielab(hexToLinear(colorOf('paper', 'paper')));
    expect(apart(paper, cielab(colours[0]!))).toBeGreaterThan(25);
  });
});

test('share of a pressure range', () => {
  expect(shareOf(100, { minKpa: 100, maxKpa: 200 })).toBe(0);
  expect(shareOf(150, { minKpa: 100, maxKpa: 200 })).toBe(0.5);
  expect(shareOf(250, { minKpa: 100, maxKpa: 200 })).toBe(1.5);
  expect(shareOf(100, { minKpa: 100, maxKpa: 100 })).toBe(0.5);
});
