import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { distance, type Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import type { Level } from '../../plan/records.ts';
import { groundOf } from './index.ts';

type Xyz = readonly [number, number, number];
const levels = (...spots: readonly Xyz[]): Table<Level> =>
  Table.of(spots.map(([x, y, zM], i) => ({ id: `L${String(i).padStart(3, '0')}`, at: [x, y] as Point, zM })));
const groundAt = (table: Table<Level>) => groundOf({ levels: table, falls: Table.of() });
const square: readonly Xyz[] = [
  [0, 0, 0],
  [10, 0, 0],
  [10, 10, 0],
  [0, 10, 0],
];

describe('few levels', () => {
  test('no level: height 0, said to be none', () => {
    const ground = groundAt(levels());
    expect(ground.heightAt([3, 4])).toEqual({ zM: 0, how: 'none' });
    expect(
      ground.surfaceLength([
        [0, 0],
        [3, 4],
      ]),
    ).toBe(5);
  });
  test('one level: that height everywhere', () => {
    expect(groundAt(levels([1, 2, 7.5])).heightAt([30, 4]).zM).toBe(7.5);
  });
  test('two levels: a slope along their line, level across, carried on beyond', () => {
    const ground = groundAt(levels([0, 0, 0], [10, 0, 5]));
    expect(ground.heightAt([4, 0]).zM).toBeCloseTo(2, 12);
    expect(ground.heightAt([4, 8]).zM).toBeCloseTo(2, 12);
    expect(ground.heightAt([12, 0])).toEqual({ zM: expect.closeTo(6, 12), how: 'outside' });
    expect(ground.slopeAt([4, 1]).percent).toBeCloseTo(50, 9);
    expect(Math.abs(ground.slopeAt([4, 1]).fallDeg)).toBeCloseTo(180, 9);
  });
  test('levels nearly on a line do not tilt the ground across it', () => {
    const ground = groundAt(levels([0, 0, 0], [5, 0.004, 1], [10, 0, 4], [15, -0.003, 4]));
    expect(ground.heightAt([2.5, 6]).zM).toBeCloseTo(0.5, 2);
    expect(ground.heightAt([7.5, -6]).zM).toBeCloseTo(2.5, 2);
    // Along the line: 5 m by 1 m, 5 m by 3 m, 5 m level.
    const along = ground.surfaceLength([
      [0, 2],
      [15, 2],
    ]);
    expect(along).toBeCloseTo(Math.hypot(5, 1) + Math.hypot(5, 3) + 5, 3);
  });
  test('levels in one place become their mean', () => {
    expect(groundAt(levels([1, 1, 2], [1, 1.0004, 4])).heightAt([0, 0]).zM).toBe(3);
  });
  test('a level that is not a number is left out', () => {
    expect(groundAt(levels([0, 0, Number.NaN], [1, 1, 2])).heightAt([0, 0]).zM).toBe(2);
  });
});

describe('levels that span an area', () => {
  test('passes through every level and is planar between', () => {
    const ground = groundAt(levels([0, 0, 1], [10, 0, 2], [0, 10, 4]));
    expect(ground.heightAt([0, 0]).zM).toBeCloseTo(1, 12);
    expect(ground.heightAt([2, 3])).toEqual({ zM: expect.closeTo(1 + 0.2 + 0.9, 12), how: 'inside' });
  });
  test('a ridge: the length on the ground is exact to 0.01 percent', () => {
    // A roof with its ridge at x = 10, 3 m high: two facets of 10 m by 3 m each way across.
    const ground = groundAt(
      levels([0, 0, 0], [0, 20, 0], [20, 0, 0], [20, 20, 0], [10, 0, 3], [10, 20, 3], [10, 10, 3]),
    );
    const across = ground.surfaceLength([
      [0, 10],
      [20, 10],
    ]);
    expect(Math.abs(across / (2 * Math.hypot(10, 3)) - 1)).toBeLessThan(1e-9);
    const slant = ground.surfaceLength([
      [0, 2],
      [20, 17],
    ]);
    expect(Math.abs(slant / (2 * Math.hypot(10, 7.5, 3)) - 1)).toBeLessThan(1e-9);
  });
  test('equals the length sampled finely on a bumpy ground', () => {
    const ground = groundAt(
      levels([0, 0, 0], [9, 1, 2], [8, 9, 1], [1, 8, 3], [4, 5, 5], [6, 3, 0], [3, 2, 1]),
    );
    const path: Point[] = [
      [-3, 1],
      [5, 4],
      [6, 12],
    ];
    let sampled = 0;
    const n = 20000;
    for (let leg = 0; leg < 2; leg++) {
      const at = (k: number): Point => [
        path[leg]![0] + ((path[leg + 1]![0] - path[leg]![0]) * k) / n,
        path[leg]![1] + ((path[leg + 1]![1] - path[leg]![1]) * k) / n,
      ];
      for (let k = 0; k < n; k++) {
        const dz = ground.heightAt(at(k + 1)).zM - ground.heightAt(at(k)).zM;
        sampled += Math.hypot(distance(at(k), at(k + 1)), dz);
      }
    }
    expect(Math.abs(ground.surfaceLength(path) / sampled - 1)).toBeLessThan(1e-4);
  });
  test('beyond the levels the side plane is carried on, and said so', () => {
    const ground = groundAt(levels([0, 0, 0], [10, 0, 0], [10, 10, 5], [0, 10, 5]));
    expect(ground.heightAt([5, 14])).toEqual({ zM: expect.closeTo(7, 9), how: 'outside' });
    expect(ground.heightAt([-3, -2])).toEqual({ zM: expect.closeTo(-1, 9), how: 'outside' });
  });
  test('a level a hand off the straight rim does not tip the ground outside', () => {
    const ground = groundAt(levels(...square, [5, 0.02, 0.05]));
    // The sliver under the rim alone would fall by 2.5 m a metre.
    expect(Math.abs(ground.heightAt([5, -4]).zM)).toBeLessThan(0.2);
  });
  test('a ring of levels on one circle', () => {
    const ring = Array.from({ length: 24 }, (_, k): Xyz => {
      const angle = (k * Math.PI) / 12;
      return [6 * Math.cos(angle), 6 * Math.sin(angle), 2 + 0.1 * Math.cos(angle)];
    });
    const ground = groundAt(levels(...ring));
    const tilt = 0.1 / 6;
    for (const p of [
      [0, 0],
      [3, 1],
      [-2, 4],
      [5.9, 0.1],
      [0.3, -5.7],
    ] as Point[]) {
      expect(ground.heightAt(p)).toEqual({ zM: expect.closeTo(2 + tilt * p[0], 9), how: 'inside' });
    }
  });
});

describe('for any levels', () => {
  const spot = fc.tuple(
    fc.double({ min: -40, max: 40, noNaN: true }),
    fc.double({ min: -40, max: 40, noNaN: true }),
    fc.double({ min: -5, max: 5, noNaN: true }),
  );
  const gridSpot = fc.tuple(
    fc.integer({ min: -4, max: 4 }),
    fc.integer({ min: -4, max: 4 }),
    fc.integer({ min: -3, max: 3 }),
  );
  const anySpots = fc.oneof(
    fc.array(spot, { minLength: 1, maxLength: 14 }),
    fc.array(gridSpot, { minLength: 3, maxLength: 20 }),
  );
  const place = fc.tuple(
    fc.double({ min: -60, max: 60, noNaN: true }),
    fc.double({ min: -60, max: 60, noNaN: true }),
  );
  const settings = { seed: 20, numRuns: 300 };

  test('heights are numbers and have no step', () => {
    fc.assert(
      fc.property(anySpots, place, (spots, p) => {
        const ground = groundAt(levels(...spots));
        const here = ground.heightAt(p).zM;
        const slope = ground.slopeAt(p).percent / 100;
        const beside = ground.heightAt([p[0] + 1e-7, p[1]]).zM;
        expect(Number.isFinite(here)).toBe(true);
        const { percent } = ground.slopeAt([p[0] + 1e-7, p[1]]);
        expect(Math.abs(beside - here)).toBeLessThanOrEqual(1e-7 * (slope + percent / 100) * 1.01 + 1e-7);
      }),
      settings,
    );
  });
  test('moving, turning and reordering the levels changes no height and no length', () => {
    fc.assert(
      fc.property(
        anySpots,
        place,
        place,
        fc.double({ min: 0, max: 6.3, noNaN: true }),
        (spots, p, q, angle) => {
          const moved = ([x, y]: readonly number[]): Point => [
            x! * Math.cos(angle) - y! * Math.sin(angle) + 21.7,
            x! * Math.sin(angle) + y! * Math.cos(angle) - 8.3,
          ];
          const plain = groundAt(levels(...spots));
          const zP = plain.heightAt(p).zM;
          const length = plain.surfaceLength([p, q]);
          const table = levels(...spots)
            .toArray()
            .reverse();
          const other = groundAt(Table.of(table.map((level) => ({ ...level, at: moved(level.at) }))));
          const reach = 1 + plain.slopeAt(p).percent / 100;
          expect(Math.abs(other.heightAt(moved(p)).zM - zP)).toBeLessThan(1e-6 * reach);
          expect(Math.abs(other.surfaceLength([moved(p), moved(q)]) - length)).toBeLessThan(
            1e-5 * length + 1e-6,
          );
        },
      ),
      settings,
    );
  });
  test('a length on the ground adds up over its parts', () => {
    fc.assert(
      fc.property(anySpots, place, place, fc.double({ min: 0, max: 1, noNaN: true }), (spots, p, q, t) => {
        const ground = groundAt(levels(...spots));
        const m: Point = [p[0] + (q[0] - p[0]) * t, p[1] + (q[1] - p[1]) * t];
        const whole = ground.surfaceLength([p, q]);
        expect(Math.abs(ground.surfaceLength([p, m, q]) - whole)).toBeLessThanOrEqual(1e-9 * (1 + whole));
        expect(whole).toBeGreaterThanOrEqual(distance(p, q) * (1 - 1e-12) - 1e-12);
      }),
      settings,
    );
  });
});
