import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ringArea, ringContains } from '../../base/polygon.ts';
import { distance, type Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import { contourIntervals, contoursOf, MOST_CONTOURS } from './contours.ts';
import { groundOf } from './index.ts';

type Xyz = readonly [number, number, number];
const groundAt = (...spots: readonly Xyz[]) =>
  groundOf({
    levels: Table.of(
      spots.map(([x, y, zM], i) => ({ id: `L${String(i).padStart(3, '0')}`, at: [x, y] as Point, zM })),
    ),
    falls: Table.of(),
  });
const BOX = { minX: 0, minY: 0, maxX: 10, maxY: 10 };

/** A cone 4 m wide and 2 m high on flat ground that reaches to 10 m. */
function cone(): Xyz[] {
  const round = (r: number, z: number, count: number): Xyz[] =>
    Array.from({ length: count }, (_, k) => {
      const turn = (2 * Math.PI * k) / count;
      return [5 + r * Math.cos(turn), 5 + r * Math.sin(turn), z];
    });
  return [[5, 5, 2.05], ...round(4, 0.05, 36), ...round(7, 0.05, 36)];
}

describe('contours of a plane', () => {
  test('are straight, evenly spaced, level across the fall, from edge to edge of the box', () => {
    const plane = groundAt([0, 0, 0], [10, 0, 1], [0, 10, 0], [10, 10, 1], [3, 7, 0.3]);
    const lines = contoursOf(plane, 0.25, BOX);
    expect(lines.map(({ zM }) => zM)).toEqual(
      [0.25, 0.5, 0.75, 1].map((z) => expect.closeTo(z, 12) as number),
    );
    for (const { zM, lines: parts } of lines.slice(0, 3)) {
      expect(parts).toHaveLength(1);
      expect(parts[0]!.path).toHaveLength(2);
      expect(parts[0]!.closed).toBe(false);
      for (const [x] of parts[0]!.path) expect(x).toBeCloseTo(zM * 10, 9);
      expect(distance(parts[0]!.path[0]!, parts[0]!.path[1]!)).toBeCloseTo(10, 9);
    }
  });
  test('every fifth from the datum is an index line', () => {
    const plane = groundAt([0, 0, 0.05], [10, 0, 1.05], [0, 10, 0.05], [10, 10, 1.05]);
    const index = contoursOf(plane, 0.1, BOX).filter((line) => line.index);
    expect(index.map(({ zM }) => zM)).toEqual([0.5, 1].map((z) => expect.closeTo(z, 12) as number));
  });
  test('go on beyond the levels, apart from those between them', () => {
    const plane = groundAt([2, 2, 0.2], [8, 2, 0.8], [8, 8, 0.8], [2, 8, 0.2]);
    const line = contoursOf(plane, 0.5, BOX).find(({ zM }) => zM === 0.5);
    expect(line!.lines.filter(({ outside }) => !outside)).toHaveLength(1);
    const inner = line!.lines.find(({ outside }) => !outside)!;
    for (const [x, y] of inner.path) {
      expect(x).toBeCloseTo(5, 9);
      expect(Math.min(Math.abs(y - 2), Math.abs(y - 8))).toBeLessThan(1e-9);
    }
    expect(line!.lines.filter(({ outside }) => outside)).toHaveLength(2);
    // From 0 at the left edge, where the ground carried on ends, to 1 at the right.
    expect(contoursOf(plane, 0.1, BOX).length).toBeGreaterThanOrEqual(9);
  });
  test('two levels give lines across', () => {
    const slope = groundAt([0, 5, 0], [10, 5, 2]);
    const found = contoursOf(slope, 0.5, { minX: -5, minY: 0, maxX: 10, maxY: 10 });
    expect(found.map(({ zM }) => zM)).toEqual([-1, -0.5, 0, 0.5, 1, 1.5, 2]);
    expect(found[0]!.lines.every(({ outside }) => outside)).toBe(true);
    const middle = found[4]!.lines;
    expect(middle).toHaveLength(1);
    expect(middle[0]!.path.map(([x]) => x)).toEqual([expect.closeTo(5, 9), expect.closeTo(5, 9)]);
  });
});

describe('contours of hills and flats', () => {
  test('a cone gives closed rings, one in the other, higher ground to the left', () => {
    const found = contoursOf(groundAt(...cone()), 0.5, { minX: 0, minY: 0, maxX: 10, maxY: 10 });
    expect(found.map(({ zM }) => zM)).toEqual([0.5, 1, 1.5, 2]);
    let before = Infinity;
    for (const { zM, lines } of found) {
      expect(lines).toHaveLength(1);
      expect(lines[0]!.closed).toBe(true);
      const area = ringArea(lines[0]!.path);
      // Counter-clockwise about the top: the inside lies to the left.
      expect(area).toBeGreaterThan(0);
      expect(area).toBeLessThan(before);
      before = area;
      expect(ringContains(lines[0]!.path, [5, 5])).toBe(true);
      // The ring of a 36-cornered cone at this height.
      const r = (4 * (2.05 - zM)) / 2;
      expect(area).toBeCloseTo(18 * r * r * Math.sin(Math.PI / 18), 6);
    }
  });
  test('a hollow is run round the other way', () => {
    const hollow = cone().map(([x, y, z]): Xyz => [x, y, -z]);
    for (const { lines } of contoursOf(groundAt(...hollow), 0.5, BOX)) {
      expect(ringArea(lines[0]!.path)).toBeLessThan(0);
    }
  });
  test('a flat top at just a contour height is bounded, not crossed', () => {
    const square = (r: number, z: number): Xyz[] => [
      [5 - r, 5 - r, z],
      [5 + r, 5 - r, z],
      [5 + r, 5 + r, z],
      [5 - r, 5 + r, z],
    ];
    const table = groundAt(...square(5, 0), ...square(2, 1), [5, 5, 1], [4.5, 5.2, 1]);
    const found = contoursOf(table, 0.5, BOX);
    expect(found.map(({ zM }) => zM)).toEqual([0.5, 1]);
    const top = found[1]!.lines;
    expect(top).toHaveLength(1);
    expect(top[0]!.closed).toBe(true);
    expect(ringArea(top[0]!.path)).toBeCloseTo(16, 9);
    expect(top[0]!.path).toHaveLength(4);
  });
  test('flat ground at just a contour height, and no ground at all, have none', () => {
    expect(contoursOf(groundAt([0, 0, 1], [10, 0, 1], [10, 10, 1], [0, 10, 1]), 0.5, BOX)).toEqual([]);
    expect(contoursOf(groundAt([0, 0, 1]), 0.5, BOX)).toEqual([]);
    expect(contoursOf(groundAt(), 0.5, BOX)).toEqual([]);
  });
  test('too many heights are not drawn, and those far above and below the levels are left out', () => {
    const plane = groundAt([0, 0, 0], [10, 0, 1], [0, 10, 0]);
    expect(contoursOf(plane, 1 / (MOST_CONTOURS + 5), BOX)).toEqual([]);
    const found = contoursOf(plane, 0.1, { minX: -400, minY: 0, maxX: 400, maxY: 10 });
    expect([found[0]!.zM, found.at(-1)!.zM]).toEqual([expect.closeTo(-2, 9), expect.closeTo(3, 9)]);
    expect(contoursOf(plane, 0, BOX)).toEqual([]);
    expect(contoursOf(plane, Number.NaN, BOX)).toEqual([]);
  });
});

describe('contours of any ground', () => {
  const spot = fc.tuple(
    fc.double({ min: 0, max: 10, noNaN: true }),
    fc.double({ min: 0, max: 10, noNaN: true }),
    fc.double({ min: -3, max: 3, noNaN: true }),
  );
  const gridSpot = fc.tuple(
    fc.integer({ min: 0, max: 5 }).map((x) => x * 2),
    fc.integer({ min: 0, max: 5 }).map((y) => y * 2),
    fc.integer({ min: -2, max: 2 }),
  );
  const spots = fc.oneof(
    fc.array(spot, { minLength: 2, maxLength: 15 }),
    fc.array(gridSpot, { minLength: 3, maxLength: 25 }),
  );
  const wide = { minX: -3, minY: -2, maxX: 12, maxY: 13 };
  const settings = { seed: 52, numRuns: 150 };

  test('each place of a line has its height, and lies in the box', () => {
    fc.assert(
      fc.property(spots, (list) => {
        const ground = groundAt(...list);
        for (const { zM, lines } of contoursOf(ground, 0.5, wide)) {
          for (const { path } of lines) {
            for (const p of path) {
              const slack = 1e-6 * (1 + ground.slopeAt(p).percent / 100);
              // A step of 1 mm holds the steepest face of two levels a millimetre apart.
              expect(Math.abs(ground.heightAt(p).zM - zM)).toBeLessThan(Math.max(slack, 1e-5));
              expect(p[0]).toBeGreaterThanOrEqual(wide.minX - 1e-9);
              expect(p[1]).toBeLessThanOrEqual(wide.maxY + 1e-9);
            }
          }
        }
      }),
      settings,
    );
  });
  test('between a lower and a higher place there are as many lines as heights', () => {
    const place = fc.tuple(
      fc.double({ min: -2.9, max: 11.9, noNaN: true }),
      fc.double({ min: -1.9, max: 12.9, noNaN: true }),
    );
    fc.assert(
      fc.property(spots, place, place, (list, a, b) => {
        const ground = groundAt(...list);
        const [za, zb] = [ground.heightAt(a).zM, ground.heightAt(b).zM];
        const found = contoursOf(ground, 0.5, wide);
        const measured = list.map(([, , z]) => z);
        const between = (z: number) =>
          z > Math.min(...measured) - 10 &&
          z < Math.max(...measured) + 10 &&
          z > Math.min(za, zb) + 1e-6 &&
          z < Math.max(za, zb) - 1e-6;
        const heights = new Set(found.map(({ zM }) => Math.round(zM * 2)));
        for (let k = Math.ceil(Math.min(za, zb) * 2); k <= Math.max(za, zb) * 2; k++) {
          if (between(k / 2)) expect(heights.has(k)).toBe(true);
        }
      }),
      settings,
    );
  });
  test('open lines end only at the edge of the box or where the levels end', () => {
    fc.assert(
      fc.property(spots, (list) => {
        const ground = groundAt(...list);
        for (const { lines } of contoursOf(ground, 0.5, wide)) {
          const ends = lines
            .filter(({ closed }) => !closed)
            .flatMap(({ path }) => [path[0]!, path.at(-1)!])
            .filter(([x, y]) => Math.min(x - wide.minX, wide.maxX - x, y - wide.minY, wide.maxY - y) > 1e-5);
          // Inside the box an end meets another one: where the ground between the levels ends.
          for (const end of ends) {
            expect(ends.filter((other) => distance(end, other) < 1e-4).length).toBeGreaterThan(1);
          }
        }
      }),
      settings,
    );
  });
});

describe('intervals', () => {
  test('give 5 to 15 lines, in round figures of the unit', () => {
    expect(contourIntervals(0.9, 'metric')).toEqual([0.1]);
    expect(contourIntervals(3.17, 'metric')).toEqual([0.25, 0.5]);
    expect(contourIntervals(10.4 * 0.3048, 'us').map((m) => Math.round(m / 0.003048) / 100)).toEqual([1, 2]);
  });
  test('for very flat and very high ground the nearest there is', () => {
    expect(contourIntervals(0.01, 'metric')).toEqual([0.02]);
    expect(contourIntervals(1000, 'metric')).toEqual([20]);
    expect(contourIntervals(0, 'us')).toEqual([]);
    expect(contourIntervals(Number.NaN, 'us')).toEqual([]);
  });
});
