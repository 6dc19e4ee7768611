import { kinks, polygon as turfPolygon } from '@turf/turf';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { between, distance, polar, type Point, type Ring } from './point.ts';
import {
  distanceToRing,
  labelPoint,
  polygonArea,
  polygonContains,
  ringArea,
  ringCentroid,
  ringContains,
  ringLength,
  selfCrossings,
} from './polygon.ts';

const SEED = { seed: 20262, numRuns: 300 };
const SQUARE: Ring = [
  [0, 0],
  [4, 0],
  [4, 4],
  [0, 4],
];
const HOLE: Ring = [
  [1, 1],
  [3, 1],
  [3, 3],
  [1, 3],
];
/** A letter U, open at the top. */
const BAY: Ring = [
  [0, 0],
  [6, 0],
  [6, 6],
  [5, 6],
  [5, 1],
  [1, 1],
  [1, 6],
  [0, 6],
];
const BOW_TIE: Ring = [
  [0, 0],
  [2, 2],
  [2, 0],
  [0, 2],
];

const scale = fc.integer({ min: -2, max: 4 }).map((n) => 10 ** n);
const share = fc.double({ min: 0, max: 1, noNaN: true });

/** A star-shaped ring about a centre: never crosses itself, and holds its centre. */
const star = fc
  .tuple(
    scale,
    fc.tuple(fc.double({ min: -3, max: 3, noNaN: true }), fc.double({ min: -3, max: 3, noNaN: true })),
    fc.array(fc.double({ min: 0.05, max: 1, noNaN: true }), { minLength: 5, maxLength: 24 }),
  )
  .map(([s, [cx, cy], radii]) => {
    const centre: Point = [cx * s, cy * s];
    const ring = radii.map((r, i) => polar(centre, r * s, (360 * i) / radii.length));
    return { s, centre, ring };
  });

describe('area', () => {
  test('signed by the way round', () => {
    expect(ringArea(SQUARE)).toBe(16);
    expect(ringArea([...SQUARE].reverse())).toBe(-16);
    expect(
      ringArea([
        [0, 0],
        [1, 1],
      ]),
    ).toBe(0);
    expect(ringArea([])).toBe(0);
  });

  test('less holes, whichever way they run', () => {
    expect(polygonArea(SQUARE, [HOLE])).toBe(12);
    expect(polygonArea([...SQUARE].reverse(), [[...HOLE].reverse()])).toBe(12);
    expect(polygonArea(HOLE, [SQUARE])).toBe(0);
  });

  test('keeps its digits far from the origin', () => {
    const far = SQUARE.map(([x, y]): Point => [x * 0.25 + 5e6, y * 0.25 - 4e6]);
    expect(ringArea(far)).toBe(1);
  });

  test('around a square', () => expect(ringLength(SQUARE)).toBe(16));

  test('moving and starting elsewhere do not change it', () => {
    fc.assert(
      fc.property(star, fc.nat(23), ({ s, ring }, from) => {
        const area = ringArea(ring);
        const k = from % ring.length;
        const turned = [...ring.slice(k), ...ring.slice(0, k)].map(([x, y]): Point => [x + s, y - 2 * s]);
        expect(area).toBeGreaterThan(0);
        expect(Math.abs(ringArea(turned) - area)).toBeLessThan(s * s * 1e-10);
      }),
      SEED,
    );
  });
});

describe('contains', () => {
  test('inside, outside, on the edge, in the corner', () => {
    expect(ringContains(SQUARE, [2, 2])).toBe(true);
    expect(ringContains(SQUARE, [4, 2])).toBe(true);
    expect(ringContains(SQUARE, [0, 0])).toBe(true);
    expect(ringContains(SQUARE, [4.001, 2])).toBe(false);
    expect(ringContains(BAY, [3, 3])).toBe(false);
    expect(ringContains(BAY, [3, 0.5])).toBe(true);
    expect(ringContains([], [0, 0])).toBe(false);
  });

  test('a hole is outside, its edge inside', () => {
    expect(polygonContains(SQUARE, [HOLE], [2, 2])).toBe(false);
    expect(polygonContains(SQUARE, [HOLE], [1, 2])).toBe(true);
    expect(polygonContains(SQUARE, [HOLE], [0.5, 2])).toBe(true);
    expect(polygonContains(SQUARE, [HOLE], [5, 2])).toBe(false);
  });

  test('places on an edge count as inside at every size', () => {
    fc.assert(
      fc.property(star, fc.nat(23), share, ({ ring }, edge, t) => {
        const i = edge % ring.length;
        const p = between(ring[i]!, ring[(i + 1) % ring.length]!, t);
        expect(ringContains(ring, p)).toBe(true);
        expect(polygonContains(ring, [ring], p)).toBe(true);
      }),
      SEED,
    );
  });

  test('between the centre and a corner is inside, beyond it outside', () => {
    fc.assert(
      fc.property(
        star,
        fc.nat(23),
        fc.double({ min: 0, max: 0.99, noNaN: true }),
        ({ ring, centre }, n, t) => {
          const corner = ring[n % ring.length]!;
          expect(ringContains(ring, between(centre, corner, t))).toBe(true);
          expect(ringContains(ring, between(centre, corner, 1.01 + t))).toBe(false);
        },
      ),
      SEED,
    );
  });
});

describe('centroid and distance', () => {
  test('of a square, of one with a repeated corner, of a flat ring', () => {
    expect(ringCentroid(SQUARE)).toEqual([2, 2]);
    expect(ringCentroid([SQUARE[0]!, ...SQUARE])).toEqual([2, 2]);
    expect(
      ringCentroid([
        [0, 0],
        [4, 0],
        [2, 0],
      ]),
    ).toEqual([2, 0]);
    expect(() => ringCentroid([])).toThrow(RangeError);
  });

  test('distance from inside, outside and the edge', () => {
    expect(distanceToRing(SQUARE, [2, 1])).toBe(1);
    expect(distanceToRing(SQUARE, [7, 8])).toBe(5);
    expect(distanceToRing(SQUARE, [0, 3])).toBe(0);
    expect(distanceToRing([], [0, 3])).toBe(Infinity);
  });

  test('the centroid moves with the ring', () => {
    fc.assert(
      fc.property(star, ({ s, ring }) => {
        const a = ringCentroid(ring);
        const b = ringCentroid(ring.map(([x, y]): Point => [x + 5 * s, y - 3 * s]));
        expect(distance([a[0] + 5 * s, a[1] - 3 * s], b)).toBeLessThan(s * 1e-8);
      }),
      SEED,
    );
  });
});

describe('selfCrossings', () => {
  test('a bow tie crosses once, a square never', () => {
    expect(selfCrossings(BOW_TIE)).toEqual([[1, 1]]);
    expect(selfCrossings(SQUARE)).toEqual([]);
    expect(selfCrossings(BAY)).toEqual([]);
  });

  test('repeated corners are no crossing', () => {
    expect(selfCrossings([SQUARE[0]!, SQUARE[0]!, ...SQUARE.slice(1), SQUARE[3]!])).toEqual([]);
  });

  test('a corner that touches an edge, and a spike that runs back', () => {
    expect(
      selfCrossings([
        [0, 0],
        [4, 0],
        [4, 4],
        [2, 0],
        [0, 4],
      ]),
    ).toEqual([[2, 0]]);
    expect(
      selfCrossings([
        [0, 0],
        [4, 0],
        [8, 0],
        [4, 0],
        [4, 4],
        [0, 4],
      ]),
    ).not.toEqual([]);
  });

  test('a five-pointed star drawn in one go crosses five times', () => {
    const ring = [0, 2, 4, 1, 3].map((n) => polar([10, 10], 3, 90 + 72 * n));
    expect(selfCrossings(ring)).toHaveLength(5);
  });

  test('rings around a centre have none, at every size', () => {
    fc.assert(
      fc.property(star, ({ ring }) => {
        expect(selfCrossings(ring)).toEqual([]);
      }),
      SEED,
    );
  });

  test('as many as turf finds in random rings', () => {
    const coordinate = fc.integer({ min: 0, max: 1_000_000 }).map((n) => n / 1000);
    const ring = fc.array(fc.tuple(coordinate, coordinate), { minLength: 4, maxLength: 9 });
    fc.assert(
      fc.property(ring, (points) => {
        const oracle = kinks(turfPolygon([[...points, points[0]!].map(([x, y]) => [x, y])]));
        const places = new Set(
          oracle.features.map((f) => f.geometry.coordinates.map((c) => c.toFixed(6)).join()),
        );
        expect(selfCrossings(points)).toHaveLength(places.size);
      }),
      { ...SEED, numRuns: 200 },
    );
  });
});

describe('labelPoint', () => {
  test('in the middle of a square, in an arm of a bay, beside a hole', () => {
    expect(labelPoint(SQUARE)).toEqual([2, 2]);
    expect(ringContains(BAY, labelPoint(BAY))).toBe(true);
    const beside = labelPoint(SQUARE, [HOLE]);
    expect(polygonContains(SQUARE, [HOLE], beside)).toBe(true);
    expect(distanceToRing(HOLE, beside)).toBeGreaterThan(0.3);
  });

  test('of a flat ring its middle', () => {
    expect(
      labelPoint([
        [0, 0],
        [4, 0],
        [2, 0],
      ]),
    ).toEqual([2, 0]);
    expect(() => labelPoint([])).toThrow(RangeError);
  });

  test('well inside, at every size', () => {
    fc.assert(
      fc.property(star, ({ s, ring, centre }) => {
        const at = labelPoint(ring);
        expect(ringContains(ring, at)).toBe(true);
        // No worse than the known inner point, but for the search's own grain.
        expect(distanceToRing(ring, at)).toBeGreaterThan(
          distanceToRing(ring, centre) - 2 * s * 0.02 - s * 1e-9,
        );
      }),
      SEED,
    );
  });

  test('inside a strip a thousand times as long as wide', () => {
    const strip: Ring = [
      [0, 0],
      [100, 60],
      [100.05, 59.9],
      [0.05, -0.1],
    ];
    expect(ringContains(strip, labelPoint(strip))).toBe(true);
  });
});
