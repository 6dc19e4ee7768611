import { describe, expect, test } from 'vitest';
import fc from 'fast-check';
import { tightBends } from './bends.ts';
import type { Point } from './point.ts';

const SIX_IN = 0.1524;
const at = (path: readonly Point[], radiusM = SIX_IN) => tightBends(path, radiusM).map(({ index }) => index);

describe('bends', () => {
  test('a right angle with room on both sides is none, without room it is', () => {
    // Tangent length of a right angle: radius x tan 45 degrees, the radius itself.
    const corner = (leg: number): Point[] => [
      [0, 0],
      [leg, 0],
      [leg, leg],
    ];
    expect(at(corner(0.153))).toEqual([]);
    expect(at(corner(0.152))).toEqual([1]);
  });
  test('two right angles of a turn share the piece between them', () => {
    const turn = (gap: number): Point[] => [
      [0, 0],
      [5, 0],
      [5, gap],
      [0, gap],
    ];
    expect(at(turn(0.306))).toEqual([]);
    expect(at(turn(0.304))).toEqual([1, 2]);
  });
  test('a fold back is tight whatever room it has', () => {
    const path: Point[] = [
      [0, 0],
      [10, 0],
      [0, 1],
    ];
    expect(at(path)).toEqual([1]);
  });
  test('a ring of many corners is tight where its own radius is less', () => {
    const ring = (radius: number) =>
      Array.from({ length: 37 }, (_, i): Point => [
        radius * Math.cos((i * Math.PI) / 18),
        radius * Math.sin((i * Math.PI) / 18),
      ]);
    expect(at(ring(0.16))).toEqual([]);
    expect(at(ring(0.14)).length).toBeGreaterThan(30);
  });
  test('odd input', () => {
    expect(at([])).toEqual([]);
    expect(at([[0, 0]])).toEqual([]);
    const doubled: Point[] = [
      [0, 0],
      [1, 0],
      [1, 0],
      [1, 0.1],
    ];
    expect(at(doubled)).toEqual([1]);
    expect(at(doubled, 0)).toEqual([]);
    expect(at(doubled, NaN)).toEqual([]);
    expect(at(doubled, Infinity)).toEqual([]);
  });
  test('a smaller radius never finds more, and the way back the same', () => {
    const place = fc.tuple(fc.integer({ min: 0, max: 40 }), fc.integer({ min: 0, max: 40 }));
    fc.assert(
      fc.property(
        fc.array(place, { minLength: 2, maxLength: 12 }),
        fc.double({ min: 0.05, max: 3, noNaN: true }),
        (cells, radius) => {
          const path = cells.map(([x, y]): Point => [x / 4, y / 4]);
          const wide = at(path, radius);
          expect(wide).toEqual(expect.arrayContaining(at(path, radius / 2)));
          const places = (list: readonly Point[]) =>
            tightBends(list, radius)
              .map((bend) => `${bend.at.join()} ${bend.turnDeg.toFixed(6)}`)
              .sort();
          expect(places(path.toReversed())).toEqual(places(path));
        },
      ),
      { seed: 11, numRuns: 200 },
    );
  });
});
