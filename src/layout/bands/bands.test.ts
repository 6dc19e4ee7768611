import { describe, expect, test } from 'vitest';
import type { Point } from '../../base/point.ts';
import { polygonArea, polygonContains } from '../../base/polygon.ts';
import { Table } from '../../base/table.ts';
import { PSI_KPA } from '../../base/units.ts';
import { groundOf } from '../../derive/ground/index.ts';
import type { Plan } from '../../plan/records.ts';
import { area, bedPlan, FT, rectangle } from '../rows/plan-for-fill-tests.ts';
import { levelsOn } from '../rows/any-bed-for-tests.ts';
import { bandsOf, MOST_BANDS, type Bands } from './index.ts';

function bands(plan: Plan, riseM: number | null = null, id = 'B'): Bands {
  const found = bandsOf(plan, id, { riseM });
  if (!found.ok) throw new Error(found.problem.what);
  return found.value;
}
const sum = (list: readonly number[]) => list.reduce((total, one) => total + one, 0);

/** Two invented sites worked out apart from this program (field practice notes, part 6, beside the project). */
describe('the invented slopes', () => {
  test('site 3, 60 x 26 ft at 40 %: rise 10.4 ft, two bands, relief at the top', () => {
    const plan = bedPlan([area('B', rectangle(0, 0, 60 * FT, 26 * FT))], 0, 0.4);
    const found = bands(plan);
    expect(found.riseM / FT).toBeCloseTo(10.4, 6);
    expect(found.bands).toHaveLength(2);
    expect(found.bands.map(({ areaM2 }) => areaM2 / FT ** 2)).toEqual([
      expect.closeTo(780, 2),
      expect.closeTo(780, 2),
    ]);
    expect(found.bands[1]!.highest.at[1] / FT).toBeCloseTo(26, 6);
    expect(found.bands[1]!.lowest.at[1] / FT).toBeCloseTo(13, 4);
    expect(sum(found.bands.map(({ pressureKpa }) => pressureKpa)) / PSI_KPA).toBeCloseTo(4.5, 1);
    expect(found.lines).toHaveLength(1);
    expect(found.isOutside).toBe(false);
  });
  test('site 6, 420 x 59 ft at 2:1: three bands of about 10 ft and 4.3 psi', () => {
    const plan = bedPlan([area('B', rectangle(0, 0, 420 * FT, 59 * FT))], 0, 0.5);
    const found = bands(plan);
    expect(found.riseM / FT).toBeCloseTo(29.5, 6);
    expect(found.bands).toHaveLength(3);
    for (const { riseM, pressureKpa } of found.bands) {
      expect(riseM / FT).toBeCloseTo(29.5 / 3, 3);
      expect(pressureKpa / PSI_KPA).toBeCloseTo(4.3, 1);
    }
  });
});

describe('how many', () => {
  const rising = (feet: number) => bedPlan([area('B', rectangle(0, 0, 20 * FT, 20 * FT))], 0, feet / 20);
  test.each([
    [4.9, 1],
    [5, 1],
    [5.1, 2],
    [10, 2],
    [20, 2],
    [20.1, 3],
  ])('%f ft: %i', (feet, count) => {
    expect(bands(rising(feet)).bands).toHaveLength(count);
  });
  test('as typed', () => {
    expect(bands(rising(10), 2.5 * FT).bands).toHaveLength(4);
    expect(bands(rising(10), 10 * FT).bands).toHaveLength(1);
    expect(bands(rising(10), 10 * FT).lines).toEqual([]);
  });
});

describe('what cannot be split is said', () => {
  const flat = bedPlan([area('B', rectangle(0, 0, 5, 5))]);
  test.each<[string, Plan, number | null, RegExp]>([
    ['no levels', flat, null, /Nothing says how the ground slopes/],
    ['level', bedPlan([area('B', rectangle(0, 0, 5, 5))], 0, 0.001), null, /level/],
    ['paving', bedPlan([area('B', rectangle(0, 0, 5, 5), { use: 'paving' })], 0, 0.4), null, /no such bed/],
    ['gone', bedPlan([], 0, 0.4), null, /no such bed/],
    ['no area', bedPlan([area('B', [[0, 0]])], 0, 0.4), null, /no area/],
    [
      'not a number',
      bedPlan(
        [
          area('B', [
            [0, 0],
            [NaN, 1],
            [1, 1],
          ]),
        ],
        0,
        0.4,
      ),
      null,
      /no area/,
    ],
    ['rise 0', bedPlan([area('B', rectangle(0, 0, 5, 5))], 0, 0.4), 0, /more than nothing/],
    ['rise NaN', bedPlan([area('B', rectangle(0, 0, 5, 5))], 0, 0.4), NaN, /more than nothing/],
    [
      'too many',
      bedPlan([area('B', rectangle(0, 0, 5, 5))], 0, 0.4),
      0.01,
      new RegExp(`${MOST_BANDS} bands|It would take`),
    ],
  ])('%s', (_, plan, riseM, what) => {
    const found = bandsOf(plan, 'B', { riseM });
    expect(found.ok).toBe(false);
    if (!found.ok) {
      expect(found.problem.what).toMatch(what);
      expect(found.problem.todo).not.toBe('');
    }
  });
});

describe('shapes', () => {
  test('a hole over the boundary is kept out of both bands', () => {
    const hole = rectangle(4, 4, 2, 2);
    const plan = bedPlan([area('B', rectangle(0, 0, 10, 10), { holes: [hole] })], 0, 0.4);
    const found = bands(plan);
    expect(found.bands).toHaveLength(2);
    expect(sum(found.bands.map(({ areaM2 }) => areaM2))).toBeCloseTo(96, 3);
    expect(found.lines).toHaveLength(2);
    for (const { parts } of found.bands)
      for (const { outline, holes } of parts) expect(polygonContains(outline, holes, [5, 5.02])).toBe(false);
  });
  test('a hole within one band stays its hole', () => {
    const hole = rectangle(4, 1, 1, 1);
    const plan = bedPlan([area('B', rectangle(0, 0, 10, 10), { holes: [hole] })], 0, 0.4);
    const [low, high] = bands(plan).bands;
    expect(low!.parts[0]!.holes).toHaveLength(1);
    expect(high!.parts[0]!.holes).toHaveLength(0);
  });
  test('a valley gives upper bands of two parts, a hill rings', () => {
    const valley: Plan = {
      ...bedPlan([area('B', rectangle(6, 2, 20, 20))]),
      levels: levelsOn(([x]) => Math.abs(x - 16) * 0.5),
    };
    const found = bands(valley);
    expect(found.bands.map(({ parts }) => parts.length)).toEqual([1, 2]);
    const hill: Plan = {
      ...bedPlan([area('B', rectangle(10, 5, 20, 20))]),
      levels: levelsOn(([x, y]) => 8 * Math.exp(-((x - 20) ** 2 + (y - 15) ** 2) / 40)),
    };
    const rings = bands(hill).bands;
    expect(rings.at(-1)!.parts[0]!.holes).toEqual([]);
    expect(rings[0]!.parts[0]!.holes).toHaveLength(1);
    expect(rings.at(-1)!.highest.zM).toBeGreaterThan(7.5);
  });
  test('boundaries of curved ground run along its contour', () => {
    const plan: Plan = {
      ...bedPlan([area('B', rectangle(6, 2, 20, 20))]),
      levels: levelsOn(([x, y]) => 0.02 * ((x - 5) ** 2 + y ** 2) ** 0.75),
    };
    const ground = groundOf(plan);
    const { bands: found, lines } = bands(plan);
    expect(lines.length).toBe(found.length - 1);
    lines.forEach((line, i) => {
      expect(line.length).toBeGreaterThan(4);
      for (const p of line) expect(ground.heightAt(p).zM).toBeCloseTo(found[i + 1]!.fromM, 3);
    });
  });
  test('far from the origin, clockwise, and beyond the levels', () => {
    const plan: Plan = {
      ...bedPlan([area('B', rectangle(1e6, 1e6, 10, 10).toReversed())]),
      levels: Table.of(
        (
          [
            [0, 0],
            [5, 0],
            [0, 5],
          ] as Point[]
        ).map(([x, y], i) => ({
          id: `Z${i}`,
          at: [1e6 + x, 1e6 + y],
          zM: y * 0.6,
        })),
      ),
    };
    const found = bands(plan);
    expect(found.bands).toHaveLength(2);
    expect(found.isOutside).toBe(true);
    expect(
      sum(found.bands.flatMap(({ parts }) => parts.map(({ outline, holes }) => polygonArea(outline, holes)))),
    ).toBeCloseTo(100, 3);
  });
});
