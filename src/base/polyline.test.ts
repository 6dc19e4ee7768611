import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { distance, type Path, type Point } from './point.ts';
import {
  nearestOnPath,
  nearestOnSegment,
  pathLength,
  pointAlong,
  segmentCrossing,
  segmentsCross,
} from './polyline.ts';

const SEED = { seed: 20261, numRuns: 300 };
const BENT: Path = [
  [0, 0],
  [3, 4],
  [3, 10],
];

/** A size from a centimetre to ten kilometres. */
const scale = fc.integer({ min: -2, max: 4 }).map((n) => 10 ** n);
const unit = fc.double({ min: -1, max: 1, noNaN: true });
const point: fc.Arbitrary<Point> = fc.tuple(unit, unit);
const path = fc
  .tuple(scale, fc.array(point, { minLength: 1, maxLength: 12 }))
  .map(([s, points]) => ({ s, points: points.map(([x, y]): Point => [x * s, y * s]) }));

describe('pathLength and pointAlong', () => {
  test('a 3-4-5 triangle side and a straight piece', () => {
    expect(pathLength(BENT)).toBe(11);
    expect(pathLength([[1, 1]])).toBe(0);
    expect(pathLength([])).toBe(0);
  });

  test('points along, clamped at both ends', () => {
    expect(pointAlong(BENT, 2.5)).toEqual([1.5, 2]);
    expect(pointAlong(BENT, 5)).toEqual([3, 4]);
    expect(pointAlong(BENT, 8)).toEqual([3, 7]);
    expect(pointAlong(BENT, -1)).toEqual([0, 0]);
    expect(pointAlong(BENT, 99)).toEqual([3, 10]);
    expect(pointAlong(BENT, Infinity)).toEqual([3, 10]);
  });

  test('repeated points do not stop the way along', () => {
    expect(
      pointAlong(
        [
          [0, 0],
          [0, 0],
          [2, 0],
          [2, 0],
          [4, 0],
        ],
        3,
      ),
    ).toEqual([3, 0]);
  });

  test('refuses what has no answer', () => {
    expect(() => pointAlong([], 1)).toThrow(RangeError);
    expect(() => pointAlong(BENT, NaN)).toThrow(RangeError);
    expect(() => nearestOnPath([], [0, 0])).toThrow(RangeError);
  });
});

describe('nearest', () => {
  test('beside a piece, before its start, past its end, on a piece without length', () => {
    expect(nearestOnSegment([0, 0], [10, 0], [4, 3])).toEqual({ point: [4, 0], distance: 3, t: 0.4 });
    expect(nearestOnSegment([0, 0], [10, 0], [-3, 4])).toEqual({ point: [0, 0], distance: 5, t: 0 });
    expect(nearestOnSegment([0, 0], [10, 0], [13, 4])).toEqual({ point: [10, 0], distance: 5, t: 1 });
    expect(nearestOnSegment([1, 1], [1, 1], [4, 5])).toEqual({ point: [1, 1], distance: 5, t: 0 });
  });

  test('on the second piece of a path, with the way along', () => {
    expect(nearestOnPath(BENT, [5, 6])).toEqual({
      point: [3, 6],
      distance: 2,
      segment: 1,
      t: 1 / 3,
      along: 7,
    });
  });

  test('a path of one point is that point', () => {
    expect(nearestOnPath([[1, 2]], [1, 5])).toEqual({
      point: [1, 2],
      distance: 3,
      segment: 0,
      t: 0,
      along: 0,
    });
  });

  test('the place found lies at its own distance along, and no sampled place is nearer', () => {
    fc.assert(
      fc.property(path, point, fc.double({ min: 0, max: 1, noNaN: true }), ({ s, points }, [x, y], share) => {
        const p: Point = [x * s, y * s];
        const near = nearestOnPath(points, p);
        expect(distance(pointAlong(points, near.along), near.point)).toBeLessThan(s * 1e-9);
        expect(near.distance).toBeCloseTo(distance(near.point, p), 9);
        const other = pointAlong(points, share * pathLength(points));
        expect(near.distance).toBeLessThanOrEqual(distance(other, p) + s * 1e-12);
      }),
      SEED,
    );
  });

  test('a place on the path is found where it is', () => {
    fc.assert(
      fc.property(path, fc.double({ min: 0, max: 1, noNaN: true }), ({ s, points }, share) => {
        const p = pointAlong(points, share * pathLength(points));
        expect(nearestOnPath(points, p).distance).toBeLessThan(s * 1e-9);
      }),
      SEED,
    );
  });
});

describe('segments', () => {
  test('crossing, touching, apart, parallel, overlapping', () => {
    expect(segmentCrossing([0, 0], [4, 4], [0, 4], [4, 0])).toEqual([2, 2]);
    expect(segmentsCross([0, 0], [4, 0], [2, 0], [2, 3])).toBe(true);
    expect(segmentsCross([0, 0], [4, 0], [4, 0], [6, 3])).toBe(true);
    expect(segmentsCross([0, 0], [4, 0], [2, 0.001], [2, 3])).toBe(false);
    expect(segmentsCross([0, 0], [4, 0], [0, 1], [4, 1])).toBe(false);
    expect(segmentsCross([0, 0], [4, 0], [3, 0], [9, 0])).toBe(true);
    expect(segmentsCross([0, 0], [4, 0], [5, 0], [9, 0])).toBe(false);
    expect(segmentsCross([0, 0], [4, 0], [2, 0], [2, 0])).toBe(true);
  });

  test('a crossing lies on both pieces, whichever way they are named', () => {
    fc.assert(
      fc.property(scale, point, point, point, point, (s, ...four) => {
        const [a, b, c, d] = four.map(([x, y]): Point => [x * s, y * s]) as [Point, Point, Point, Point];
        const cross = segmentCrossing(a, b, c, d);
        expect(segmentsCross(d, c, b, a)).toBe(cross !== null);
        if (cross) {
          expect(nearestOnSegment(a, b, cross).distance).toBeLessThan(s * 1e-9);
          expect(nearestOnSegment(c, d, cross).distance).toBeLessThan(s * 1e-9);
        }
      }),
      SEED,
    );
  });

  test('a piece that ends on another meets it, at every size', () => {
    fc.assert(
      fc.property(scale, point, point, point, fc.double({ min: 0, max: 1, noNaN: true }), (s, p, q, r, t) => {
        const a: Point = [p[0] * s, p[1] * s];
        const b: Point = [q[0] * s, q[1] * s];
        const end = pointAlong([a, b], t * distance(a, b));
        const start: Point = [r[0] * s, r[1] * s];
        fc.pre(distance(a, b) > s * 1e-3 && nearestOnSegment(a, b, start).distance > s * 1e-3);
        expect(segmentsCross(start, end, a, b)).toBe(true);
      }),
      SEED,
    );
  });
});
