import fc from 'fast-check';
import * as turf from '@turf/turf';
import { describe, expect, test } from 'vitest';
import {
  closed,
  difference,
  greatestWidth,
  inset,
  intersection,
  NOWHERE,
  regionArea,
  regionOf,
  sectorRing,
  union,
  type Region,
} from './clip.ts';
import type { Point, Ring } from './point.ts';
import { polygonArea, ringArea, ringContains } from './polygon.ts';

const SEED = 20_250;

function box(x: number, y: number, w: number, h: number): Point[] {
  return [
    [x, y],
    [x + w, y],
    [x + w, y + h],
    [x, y + h],
  ];
}

/** A ring that does not cross itself: corners in rising direction about a centre. */
const star = fc
  .record({
    x: fc.double({ min: -20, max: 20, noNaN: true }),
    y: fc.double({ min: -20, max: 20, noNaN: true }),
    radii: fc.array(fc.double({ min: 0.5, max: 25, noNaN: true }), { minLength: 3, maxLength: 14 }),
    clockwise: fc.boolean(),
  })
  .map(({ x, y, radii, clockwise }): Point[] => {
    const ring = radii.map((r, i): Point => {
      const turn = (2 * Math.PI * i) / radii.length;
      return [x + r * Math.cos(turn), y + r * Math.sin(turn)];
    });
    return clockwise ? ring.reverse() : ring;
  });

describe('known areas', () => {
  const a = regionOf(box(0, 0, 4, 3));
  const b = regionOf(box(3, 1, 4, 4).reverse());

  test('two boxes that overlap by 1 x 2', () => {
    expect(regionArea(union([a, b]))).toBeCloseTo(12 + 16 - 2, 9);
    expect(regionArea(intersection(a, b))).toBeCloseTo(2, 9);
    expect(regionArea(difference(a, b))).toBeCloseTo(10, 9);
  });

  test('a hole, also one that is cut in, runs the other way and is not ground', () => {
    const withHole = regionOf(box(0, 0, 10, 10), [box(2, 2, 3, 3), box(4, 4, 3, 3)]);
    expect(regionArea(withHole)).toBeCloseTo(100 - (9 + 9 - 1), 9);
    const cut = difference(regionOf(box(0, 0, 10, 10)), regionOf(box(4, 4, 2, 2)));
    expect(cut.map((ring) => Math.sign(ringArea(ring))).sort((one, two) => one - two)).toEqual([-1, 1]);
    expect(regionArea(cut)).toBeCloseTo(96, 9);
    expect(regionArea(intersection(cut, regionOf(box(4.5, 4.5, 1, 1))))).toBe(0);
  });

  test('a hole outside its outline takes nothing away', () => {
    expect(regionArea(regionOf(box(0, 0, 2, 2), [box(5, 5, 1, 1)]))).toBeCloseTo(4, 9);
  });

  test('regions apart, nothing, and no ground at all', () => {
    const far = regionOf(box(50, 50, 1, 1));
    expect(intersection(a, far)).toEqual(NOWHERE);
    expect(difference(a, far)).toBe(a);
    expect(regionArea(union([a, far, NOWHERE]))).toBeCloseTo(13, 9);
    expect(union([])).toEqual(NOWHERE);
    expect(regionOf(box(0, 0, 1, 1).slice(0, 2))).toEqual(NOWHERE);
    expect(
      regionOf([
        [0, 0],
        [1, 0],
        [NaN, 1],
      ]),
    ).toEqual(NOWHERE);
    expect(
      regionOf([
        [0, 0],
        [1, 0],
        [2, 0],
      ]),
    ).toEqual(NOWHERE);
  });

  test('an outline that crosses itself counts by the even-odd rule', () => {
    const bow: Ring = [
      [0, 0],
      [2, 2],
      [2, 0],
      [0, 2],
    ];
    expect(regionArea(regionOf(bow))).toBeCloseTo(2, 9);
  });

  test('shared edges leave no sliver', () => {
    const left = regionOf(box(0, 0, 1 / 3, 1));
    const right = regionOf(box(1 / 3, 0, 2 / 3, 1));
    expect(union([left, right])).toHaveLength(1);
    expect(regionArea(intersection(left, right))).toBe(0);
  });

  test('far from the origin the digits stay', () => {
    const x = 654_321.123456;
    const y = 987_654.654321;
    const one = regionOf(box(x, y, 4, 3));
    const two = regionOf(box(x + 3, y + 1, 4, 4));
    expect(regionArea(intersection(one, two))).toBeCloseTo(2, 5);
    expect(regionArea(union([one, two]))).toBeCloseTo(26, 5);
  });
});

describe('sectors', () => {
  test.each([
    [3.048, 0, 90],
    [3.048, 200, 180],
    [4.572, 0, 360],
    [1, 10, 1],
    [5, -30, 359.9],
    [2, 0, 0.01],
  ])('radius %f, from %f over %f degrees: area of the sector', (radiusM, start, sweep) => {
    const ring = sectorRing([7, -3], radiusM, start, sweep);
    const exact = (sweep / 360) * Math.PI * radiusM ** 2;
    expect(ringArea(ring) / exact).toBeCloseTo(1, 9);
  });

  test('half of a circle cut off by a line errs by less than 0.1 %, wherever the corners lie', () => {
    for (let start = 0; start < 3; start += 0.5) {
      const whole = regionOf(sectorRing([0, 0], 4, start, 360));
      const below = regionArea(intersection(whole, regionOf(box(-9, -9, 18, 7))));
      // Segment of a circle beyond a chord at distance 2: r^2 acos(d/r) - d sqrt(r^2 - d^2).
      const exact = 16 * Math.acos(2 / 4) - 2 * Math.sqrt(16 - 4);
      expect(Math.abs(below - exact) / (Math.PI * 16)).toBeLessThan(0.001);
    }
  });
});

describe('insets and width', () => {
  test('a box loses a strip all round, and is as wide as its short side', () => {
    expect(regionArea(inset(regionOf(box(0, 0, 10, 4)), 1))).toBeCloseTo(8 * 2, 6);
    expect(inset(regionOf(box(0, 0, 10, 4)), 2.001)).toEqual(NOWHERE);
    expect(greatestWidth(regionOf(box(0, 0, 10, 4)))).toBeCloseTo(4, 2);
    expect(greatestWidth(NOWHERE)).toBe(0);
  });

  test('a bent bed is widest in its bend: r = 14 - sqrt(96) for legs of 6 and 8', () => {
    const bent: Ring = [
      [0, 0],
      [24, 0],
      [24, 11],
      [16, 11],
      [16, 6],
      [0, 6],
    ];
    expect(greatestWidth(regionOf(bent))).toBeCloseTo(2 * (14 - Math.sqrt(96)), 2);
  });

  test('a hole in the middle narrows', () => {
    expect(greatestWidth(regionOf(box(0, 0, 10, 10), [box(4, 4, 2, 2)]))).toBeLessThan(6);
  });
});

describe('gaps', () => {
  const box = (x: number, width: number): Ring => [
    [x, 0],
    [x + width, 0],
    [x + width, 3],
    [x, 3],
  ];
  test('narrower than twice the width are closed, wider ones stay, corners keep their place', () => {
    const beside = (gap: number) => closed(union([regionOf(box(0, 2)), regionOf(box(2 + gap, 2))]), 1e-4);
    const one = beside(1e-5);
    expect(one).toHaveLength(1);
    expect(regionArea(one)).toBeCloseTo(12, 4);
    for (const corner of box(0, 4.00001))
      expect(one[0]!.some(([x, y]) => Math.hypot(x - corner[0], y - corner[1]) < 5e-6)).toBe(true);
    expect(beside(1e-3)).toHaveLength(2);
    expect(closed(NOWHERE, 1e-4)).toEqual(NOWHERE);
    expect(closed(one, 0)).toBe(one);
  });
});

describe('for any two rings', () => {
  const close = (got: number, wanted: number): boolean => Math.abs(got - wanted) <= 1e-3 + 1e-6 * wanted;

  test('areas of both, either and one agree', () => {
    fc.assert(
      fc.property(star, star, (one, two) => {
        const [a, b] = [regionOf(one), regionOf(two)];
        const [both, either] = [regionArea(intersection(a, b)), regionArea(union([a, b]))];
        expect(regionArea(a)).toBeCloseTo(polygonArea(one), 3);
        expect(close(either, regionArea(a) + regionArea(b) - both)).toBe(true);
        expect(close(regionArea(difference(a, b)), regionArea(a) - both)).toBe(true);
        expect(close(regionArea(intersection(difference(a, b), b)), 0)).toBe(true);
        expect(close(regionArea(union([a, b])), regionArea(union([b, a])))).toBe(true);
      }),
      { seed: SEED, numRuns: 150 },
    );
  });

  test('an independent library gives the same rings', () => {
    const ofTurf = (feature: ReturnType<typeof turf.union>): number => {
      // Its own area is that of a sphere; the coordinates are planar.
      const geometry = feature?.geometry;
      if (!geometry) return 0;
      const polygons = geometry.type === 'Polygon' ? [geometry.coordinates] : geometry.coordinates;
      const ring = (positions: readonly (readonly number[])[] = []): Point[] =>
        positions.slice(1).map(([x, y]): Point => [x!, y!]);
      return polygons.reduce((sum, [outer, ...holes]) => sum + polygonArea(ring(outer), holes.map(ring)), 0);
    };
    const feature = (ring: Ring) => turf.polygon([[...ring, ring[0]!].map(([x, y]) => [x, y])]);
    fc.assert(
      fc.property(star, star, (one, two) => {
        const pair = turf.featureCollection([feature(one), feature(two)]);
        const [a, b] = [regionOf(one), regionOf(two)];
        expect(close(regionArea(intersection(a, b)), ofTurf(turf.intersect(pair)))).toBe(true);
        expect(close(regionArea(union([a, b])), ofTurf(turf.union(pair)))).toBe(true);
        expect(close(regionArea(difference(a, b)), ofTurf(turf.difference(pair)))).toBe(true);
      }),
      { seed: SEED, numRuns: 100 },
    );
  });

  test('a point lies in the result where the rings say so', () => {
    const inside = (region: Region, p: Point): boolean =>
      region.filter((ring) => ringContains(ring, p)).length % 2 === 1;
    const place = fc.tuple(
      fc.double({ min: -40, max: 40, noNaN: true }),
      fc.double({ min: -40, max: 40, noNaN: true }),
    );
    fc.assert(
      fc.property(star, star, place, (one, two, p) => {
        const [a, b] = [regionOf(one), regionOf(two)];
        const [inA, inB] = [ringContains(one, p), ringContains(two, p)];
        expect(inside(intersection(a, b), p)).toBe(inA && inB);
        expect(inside(union([a, b]), p)).toBe(inA || inB);
        expect(inside(difference(a, b), p)).toBe(inA && !inB);
      }),
      { seed: SEED, numRuns: 300 },
    );
  });
});
