import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { polygonArea } from '../../base/polygon.ts';
import type { Point, Ring } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import type { Area, Level } from '../../plan/records.ts';
import { bedSlopes, slopeClassesOf, slopeClassOf, slopePieces } from './slope-classes.ts';

type Xyz = readonly [number, number, number];
const bed = (id: string, outline: Ring, holes: readonly Ring[] = [], use: Area['use'] = 'bed'): Area => ({
  id,
  use,
  name: id,
  outline,
  holes,
});
const site = (areas: readonly Area[], spots: readonly Xyz[]) => ({
  areas: Table.of(areas),
  levels: Table.of<Level>(
    spots.map(([x, y, zM], i) => ({ id: `L${String(i).padStart(2, '0')}`, at: [x, y] as Point, zM })),
  ),
  falls: Table.of<never>(),
});
const box = (x0: number, y0: number, x1: number, y1: number): Ring => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];
/** Flat up to x = 10, then rising by 10 percent to x = 20. */
const KINKED: readonly Xyz[] = [
  [0, 0, 0],
  [0, 10, 0],
  [10, 0, 0],
  [10, 10, 0],
  [20, 0, 1],
  [20, 10, 1],
];

describe('classes', () => {
  test('a slope on a limit belongs to the flatter class', () => {
    expect([0, 5, 5.06, 8, 12, 16, 25, 40.04, 40.1].map(slopeClassOf)).toEqual([0, 0, 1, 1, 2, 3, 4, 5, 6]);
    expect(slopeClassOf(5 + 1e-12)).toBe(0);
  });
  test('areas in plan over two planes, exact', () => {
    const found = bedSlopes(site([bed('A', box(4, 2, 16, 6))], KINKED))!;
    expect(found.areaM2).toBeCloseTo(48, 9);
    expect(found.classes[0]).toMatchObject({ from: 0, to: 5, share: expect.closeTo(0.5, 9) });
    expect(found.classes[2]).toMatchObject({ from: 8, to: 12, areaM2: expect.closeTo(24, 9) });
    expect(found.meanPercent).toBeCloseTo(5, 9);
    expect(found.steepestPercent).toBeCloseTo(10, 9);
    expect(found.outside).toEqual([]);
    expect(found.classes.at(-1)!.to).toBe(Infinity);
  });
  test('holes are left out; paving, lawn and buildings do not count', () => {
    const areas = [
      bed('A', box(4, 2, 16, 6), [box(11, 3, 13, 5)]),
      bed('W', box(0, 0, 20, 10), [], 'paving'),
      bed('G', box(0, 0, 20, 10), [], 'lawn'),
    ];
    const found = bedSlopes(site(areas, KINKED))!;
    expect(found.areaM2).toBeCloseTo(44, 9);
    expect(found.classes[2]!.areaM2).toBeCloseTo(20, 9);
  });
  test('beds that reach beyond the levels are named with their share', () => {
    const found = bedSlopes(site([bed('A', box(15, 2, 25, 6)), bed('B', box(2, 2, 4, 4))], KINKED))!;
    expect(found.outside).toEqual([{ bedId: 'A', share: expect.closeTo(0.5, 9) }]);
    expect(found.classes[2]!.areaM2).toBeCloseTo(40, 9);
  });
  test('nothing without a bed, or without a slope', () => {
    expect(bedSlopes(site([], KINKED))).toBeNull();
    expect(slopeClassesOf(site([bed('A', box(0, 0, 1, 1))], [[0, 0, 3]]))).toEqual([]);
    expect(slopePieces(site([bed('A', box(0, 0, 1, 1))], []))).toEqual([]);
  });
});

describe('for any ground', () => {
  const spot = fc.tuple(
    fc.double({ min: 0, max: 10, noNaN: true }),
    fc.double({ min: 0, max: 10, noNaN: true }),
    fc.double({ min: -2, max: 2, noNaN: true }),
  );
  /** A star about its middle, so that it never crosses itself but may well be bent. */
  const star = fc
    .array(fc.double({ min: 0.5, max: 7, noNaN: true }), { minLength: 5, maxLength: 11 })
    .map((radii): Ring =>
      radii.map((r, i): Point => {
        const turn = (2 * Math.PI * i) / radii.length;
        return [5 + r * Math.cos(turn), 5 + r * Math.sin(turn)];
      }),
    );
  test('the classes, and the drawn pieces, add up to the area of the beds', () => {
    fc.assert(
      fc.property(fc.array(spot, { minLength: 2, maxLength: 14 }), star, (spots, outline) => {
        const plan = site([bed('A', outline)], spots);
        const found = bedSlopes(plan);
        if (!found) return;
        const area = polygonArea(outline);
        expect(Math.abs(found.classes.reduce((sum, one) => sum + one.areaM2, 0) - area)).toBeLessThan(1e-6);
        expect(found.classes.reduce((sum, one) => sum + one.share, 0)).toBeCloseTo(1, 9);
        const drawn = slopePieces(plan).reduce((sum, piece) => sum + piece.areaM2, 0);
        expect(Math.abs(drawn - area)).toBeLessThan(1e-4);
      }),
      { seed: 77, numRuns: 120 },
    );
  });
});
