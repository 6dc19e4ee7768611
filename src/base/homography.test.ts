import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  chained,
  determinant,
  flattestThree,
  growthAt,
  heightShare,
  homographyFrom,
  inverted,
  mapped,
  weightAt,
  type Homography,
} from './homography.ts';
import { distance, type Point } from './point.ts';

const SEED = 20_251;
type Four = readonly [Point, Point, Point, Point];
const pixel = fc.tuple(
  fc.double({ min: 0, max: 4096, noNaN: true }),
  fc.double({ min: 0, max: 4096, noNaN: true }),
);
/** Four pixels of which no three come near a line. */
const quad = fc
  .tuple(pixel, pixel, pixel, pixel)
  .filter((points) => flattestThree(points).share > 0.05 && spread(points) > 50);
const spread = (points: Four) =>
  Math.min(...points.flatMap((a, i) => points.slice(i + 1).map((b) => distance(a, b))));
/** Moves each corner of a square by up to 40 % of its side: convex, no horizon near it. */
const view = fc
  .array(fc.double({ min: -0.4, max: 0.4, noNaN: true }), { minLength: 8, maxLength: 8 })
  .map((by): Four => [
    [1000 + 2000 * by[0]!, 1000 + 2000 * by[1]!],
    [3000 + 2000 * by[2]!, 1000 + 2000 * by[3]!],
    [3000 + 2000 * by[4]!, 3000 + 2000 * by[5]!],
    [1000 + 2000 * by[6]!, 3000 + 2000 * by[7]!],
  ])
  .filter(
    (points) =>
      flattestThree(points).share > 0.05 &&
      new Set(points.map((p, i) => turn(p, points[(i + 1) % 4]!, points[(i + 2) % 4]!) > 0)).size === 1,
  );
const turn = (a: Point, b: Point, c: Point) => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

function made(from: readonly Point[], to: readonly Point[]): Homography {
  const result = homographyFrom(from, to);
  if (!result.ok) throw new Error(result.problem.what);
  return result.value;
}

describe('homography', () => {
  test('takes four points to four points, whatever the quadrilateral', () => {
    fc.assert(
      fc.property(quad, quad, (from, to) => {
        const h = made(from, to);
        from.forEach((p, i) => {
          // Near the horizon a pixel is magnified without bound; the error is held against that.
          const scale = Math.max(1, growthAt(h, p), Math.hypot(...h) / Math.abs(weightAt(h, p)));
          expect(distance(mapped(h, p), to[i]!)).toBeLessThan(1e-9 * scale);
        });
      }),
      { seed: SEED, numRuns: 250 },
    );
  });
  test('there and back is within a billionth of a pixel', () => {
    fc.assert(
      fc.property(view, view, pixel, (from, to, p) => {
        const h = made(from, to);
        const inside: Point = [1800 + p[0] / 10, 1800 + p[1] / 10];
        expect(distance(mapped(inverted(h), mapped(h, inside)), inside)).toBeLessThan(1e-9);
      }),
      { seed: SEED, numRuns: 250 },
    );
  });
  test('two maps one after the other are one map', () => {
    fc.assert(
      fc.property(view, view, view, (a, b, c) => {
        const chain = chained(made(a, b), made(b, c));
        const direct = made(a, c);
        for (const p of a) expect(distance(mapped(chain, p), mapped(direct, p))).toBeLessThan(1e-8);
        expect(Math.abs(determinant(chain))).toBeGreaterThan(0);
      }),
      { seed: SEED, numRuns: 300 },
    );
  });
  test('more than four pairs: exact where they agree, in between where they do not', () => {
    fc.assert(
      fc.property(view, view, fc.array(pixel, { minLength: 1, maxLength: 8 }), (from, to, more) => {
        const h = made(from, to);
        const extra = more.map((p): Point => [1500 + p[0] / 4, 1500 + p[1] / 4]);
        const all = [...from, ...extra].filter((p) => weightAt(h, p) > 0.05 * weightAt(h, from[0]));
        const fitted = made(
          all,
          all.map((p) => mapped(h, p)),
        );
        for (const p of all) expect(distance(mapped(fitted, p), mapped(h, p))).toBeLessThan(1e-4);
      }),
      { seed: SEED, numRuns: 200 },
    );
    // A fifth point, the middle, 10 px off: the error is shared, and none takes all of it.
    const square: Point[] = [
      [0, 0],
      [100, 0],
      [100, 100],
      [0, 100],
      [50, 50],
    ];
    const off = square.map(([x, y], i): Point => (i === 4 ? [x + 10, y] : [x, y]));
    const h = made(square, off);
    const errors = square.map((p, i) => distance(mapped(h, p), off[i]!));
    expect(Math.max(...errors)).toBeLessThan(9);
    expect(Math.min(...errors)).toBeGreaterThan(0.1);
  });
  test('the weight is above zero at the points and falls to zero at the horizon', () => {
    // A trapezoid whose sides meet at (50, -100): there the parallels of a square meet.
    const h = made(
      [
        [25, 0],
        [75, 0],
        [100, 100],
        [0, 100],
      ],
      [
        [0, 0],
        [1, 0],
        [1, 1],
        [0, 1],
      ],
    );
    expect(weightAt(h, [50, -100])).toBeCloseTo(0, 12);
    expect(weightAt(h, [50, -101])).toBeLessThan(0);
    expect(weightAt(h, [25, 0])).toBeGreaterThan(0);
    expect(weightAt(inverted(h), [0, 0])).toBeCloseTo(1 / weightAt(h, [25, 0]), 12);
  });
  test('growth is that of lengths where the map only scales', () => {
    const h = made(
      [
        [0, 0],
        [10, 0],
        [10, 10],
        [0, 10],
      ],
      [
        [5, 5],
        [35, 5],
        [35, 35],
        [5, 35],
      ],
    );
    expect(growthAt(h, [3, 4])).toBeCloseTo(3, 12);
  });
  test('points that leave the map open are refused, with what to do', () => {
    const square: Point[] = [
      [0, 0],
      [1, 0],
      [1, 1],
      [0, 1],
    ];
    const line: Point[] = [
      [0, 0],
      [1, 0],
      [2, 0],
      [0, 1],
    ];
    for (const [from, to] of [
      [line, square],
      [square, line],
      [square.slice(0, 3), square.slice(0, 3)],
      [square, square.slice(0, 3)],
      [[[NaN, 0], ...square.slice(1)] as Point[], square],
      [square.map((): Point => [4, 4]), square],
    ] as const) {
      const result = homographyFrom(from, to);
      expect(result.ok).toBe(false);
      if (!result.ok) expect(result.problem.todo).not.toBe('');
    }
    const five = [...line.slice(0, 3), [3, 0], [4, 0]] as Point[];
    expect(homographyFrom(five, five).ok).toBe(false);
  });
  test('the flattest three are found', () => {
    expect(
      flattestThree([
        [0, 0],
        [10, 0.1],
        [20, 0],
        [10, 20],
      ]),
    ).toMatchObject({ leftOut: 3 });
    expect(heightShare([0, 0], [2, 0], [1, Math.sqrt(3)])).toBeCloseTo(Math.sqrt(3) / 2, 12);
  });
});
