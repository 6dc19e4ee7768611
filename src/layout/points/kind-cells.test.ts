import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Point, Ring } from '../../base/point.ts';
import { polygonContains } from '../../base/polygon.ts';
import { kindCells } from './kind-cells.ts';

const edgesOf = (ring: Ring) => ring.map((a, i) => ({ a, b: ring[(i + 1) % ring.length]! }));
const num = fc.double({ min: -6, max: 6, noNaN: true, noDefaultInfinity: true });
const point = fc.tuple(num, num) as fc.Arbitrary<Point>;

describe('the kind of ground by squares', () => {
  test('is the kind at the place itself, inside of any polygon, near its edges and far off', () => {
    fc.assert(
      fc.property(
        fc.array(point, { minLength: 3, maxLength: 7 }),
        fc.array(point, { minLength: 1, maxLength: 60 }),
        (ring, places) => {
          const exact = (p: Point): 0 | 1 => (polygonContains(ring, [], p) ? 1 : 0);
          const kindAt = kindCells(edgesOf(ring), exact);
          const near = ring.flatMap(([x, y]): Point[] => [
            [x + 1e-4, y],
            [x - 1e-4, y - 1e-4],
          ]);
          for (const p of [...places, ...near, ...places]) expect(kindAt(p)).toBe(exact(p));
        },
      ),
      { seed: 3, numRuns: 300 },
    );
  });

  test('a square without an edge is looked up once', () => {
    let asked = 0;
    const kindAt = kindCells(
      edgesOf([
        [0, 0],
        [4, 0],
        [4, 4],
        [0, 4],
      ]),
      () => {
        asked += 1;
        return 2;
      },
    );
    for (let i = 0; i < 50; i++) kindAt([2.01 + i * 0.001, 2.01]);
    expect(asked).toBe(1);
  });

  test('without edges every place is looked up', () => {
    expect(kindCells([], ([x]) => (x > 0 ? 1 : 0))([1, 0])).toBe(1);
  });
});
