import { describe, expect, test } from 'vitest';
import { colorOf, PEN } from './inks.ts';
import { hexToLinear, linearToOklab } from './oklab.ts';
import { patternOutline } from '../derive/existing/coverage/pattern.ts';
import { symbolShape } from './symbols.ts';

const NAMES = [
  'dot',
  'ring',
  'square',
  'diamond',
  'triangleUp',
  'triangleDown',
  'cross',
  'supply',
  'control',
  'flushEnd',
  'checkValve',
  'head',
  'stem',
  'level',
] as const;

test.each(NAMES)('symbol %s has pieces that stay inside its size', (name) => {
  const pieces = symbolShape(name);
  expect(pieces.length).toBeGreaterThan(0);
  for (const piece of pieces) {
    const reach =
      piece.kind === 'circle'
        ? [Math.abs(piece.at[0]) + piece.radius, Math.abs(piece.at[1]) + piece.radius]
        : piece.points.flat().map(Math.abs);
    for (const value of reach) expect(value).toBeLessThanOrEqual(0.5 + 1e-9);
  }
});

test('the triangles of low and high point down and up (y down)', () => {
  const tip = (name: 'triangleUp' | 'triangleDown'): number => {
    const [piece] = symbolShape(name);
    if (piece?.kind !== 'line') throw new Error('no triangle');
    return piece.points.find(([x]) => x === 0)![1];
  };
  expect(tip('triangleUp')).toBeLessThan(0);
  expect(tip('triangleDown')).toBeGreaterThan(0);
});

test('no two symbols are drawn alike', () => {
  const drawn = NAMES.map((name) => JSON.stringify(symbolShape(name)));
  expect(new Set(drawn).size).toBe(NAMES.length);
});

describe('inks', () => {
  test('are colours; a colour stands for itself; paper is white only on paper', () => {
    expect(colorOf('line')).toMatch(/^#[0-9a-f]{6}$/);
    expect(colorOf('#123456')).toBe('#123456');
    expect(colorOf('paper', 'paper')).toBe('#ffffff');
    expect(colorOf('paper')).not.toBe('#ffffff');
  });

  test('lines stand far off the tints that they cross', () => {
    const light = (ink: Parameters<typeof colorOf>[0]): number =>
      linearToOklab(hexToLinear(colorOf(ink))).lightness;
    for (const tint of ['bed', 'paving', 'lawn', 'plantFill', 'paper'] as const) {
      expect(light(tint) - light('line')).toBeGreaterThan(0.5);
      expect(light(tint) - light('old')).toBeGreaterThan(0.2);
    }
  });

  test('pens grow by about the root of two', () => {
    const widths = Object.values(PEN);
    for (let i = 1; i < widths.length; i++) {
      expect(widths[i]! / widths[i - 1]!).toBeGreaterThan(1.35);
      expect(widths[i]! / widths[i - 1]!).toBeLessThan(1.45);
    }
  });
});

describe('ground that a head wets', () => {
  test('a quarter circle begins at the head and keeps its radius', () => {
    const ring = patternOutline([1, 1], { kind: 'sector', radiusM: 2, startDeg: 0, sweepDeg: 90 })!;
    expect(ring[0]).toEqual([1, 1]);
    for (const [x, y] of ring.slice(1)) expect(Math.hypot(x - 1, y - 1)).toBeCloseTo(2, 9);
    expect(ring.at(-1)![0]).toBeCloseTo(1, 9);
    expect(ring.at(-1)![1]).toBeCloseTo(3, 9);
  });

  test('a full circle has no spoke', () => {
    const ring = patternOutline([0, 0], { kind: 'sector', radiusM: 2, startDeg: 0, sweepDeg: 360 })!;
    for (const [x, y] of ring) expect(Math.hypot(x, y)).toBeCloseTo(2, 9);
  });

  test('a strip without a direction, or a sector without a radius, has no outline', () => {
    expect(patternOutline([0, 0], { kind: 'strip', lengthM: 4, widthM: 1, directionDeg: null })).toBeNull();
    expect(patternOutline([0, 0], { kind: 'sector', radiusM: 0, startDeg: 0, sweepDeg: 90 })).toBeNull();
  });

  test('a strip lies along its direction', () => {
    const ring = patternOutline([0, 0], { kind: 'strip', lengthM: 4, widthM: 2, directionDeg: 90 })!;
    expect(Math.max(...ring.map(([x]) => x))).toBeCloseTo(1, 9);
    expect(Math.max(...ring.map(([, y]) => y))).toBeCloseTo(2, 9);
  });
});
