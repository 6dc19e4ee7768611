import { describe, expect, test } from 'vitest';
import type { Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import type { CheckValve, Level, Plan } from '../../plan/records.ts';
import { blank, control, dripline, emitter, lateral, level, planOf, supply } from '../plan-for-tests.ts';
import { drainDown } from './drain-down.ts';

/** Litres in a metre of tubing of 15.24 mm bore. */
const LITRES_PER_M = (Math.PI / 4) * 15.24 ** 2 * 1e-3;
const valve = (id: string, runId: string, at: Point, openKpa = 0): CheckValve => ({ id, runId, at, openKpa });

/** Blank tubing along the x axis, over ground of the given heights every `step` metres, with emitters at some x. */
function line(heights: readonly number[], emitterX: readonly number[], law = 'point-plain', step = 10): Plan {
  const levels = heights.map((zM, i): Level => level(`L${i}`, i * step, 0, zM));
  return planOf({
    levels,
    supplies: [supply('V', [0, 0])],
    controls: [control('C', [0, 0])],
    runs: [blank('H', ...heights.map((_, i): Point => [i * step, 0]))],
    emitters: emitterX.map((x, i) => emitter(`E${i}`, 'H', [x, 0], { law })),
  });
}
const drained = (plan: Plan, checks = true): Record<string, number> =>
  Object.fromEntries(drainDown(plan, { checks }).outlets.map(({ owner, volumeL }) => [owner.id, volumeL]));

describe('a run down a slope', () => {
  const slope = line([0, -1, -2], [5, 12, 20]);
  const lengthM = 2 * Math.hypot(10, 1);
  test('all of it leaves at the lowest outlet', () => {
    const result = drainDown(slope);
    expect(result.outlets.map(({ owner }) => owner.id)).toEqual(['E2']);
    expect(result.outlets[0]!.volumeL).toBeCloseTo(lengthM * LITRES_PER_M, 9);
    expect(result.heldL).toBeCloseTo(0, 9);
    expect(result.totalL).toBeCloseTo(lengthM * LITRES_PER_M, 9);
  });
  test('below the lowest outlet it stays', () => {
    const result = drainDown(line([0, -1, -2], [5]));
    expect(result.drainedL).toBeCloseTo((lengthM / 4) * LITRES_PER_M, 9);
    expect(result.heldL).toBeCloseTo(0.75 * lengthM * LITRES_PER_M, 9);
  });
  test('uphill from the valve it comes back to the lowest outlet', () => {
    expect(drained(line([0, 1, 2], [5, 12, 20]))['E0']).toBeCloseTo(
      0.75 * 2 * Math.hypot(10, 1) * LITRES_PER_M,
      9,
    );
  });
  test('a check valve down the slope changes nothing, one up the slope holds what lies above it', () => {
    const up = line([0, 1, 2], [5, 12, 20]);
    const held = { ...up, checkValves: Table.of([valve('K', 'H', [10, 0])]) };
    // The valve stands a millimetre off the corner. Above it the outlet at 12 m is the lowest, with the water from there up.
    expect(drained(held)['E0']).toBeCloseTo(5 * Math.hypot(1, 0.1) * LITRES_PER_M, 3);
    expect(drained(held)['E1']).toBeCloseTo(8 * Math.hypot(1, 0.1) * LITRES_PER_M, 3);
    expect(drained(held, false)['E0']).toBeCloseTo(15 * Math.hypot(1, 0.1) * LITRES_PER_M, 3);
    const down = { ...slope, checkValves: Table.of([valve('K', 'H', [10, 0])]) };
    expect(drained(down)['E2']).toBeCloseTo(lengthM * LITRES_PER_M, 3);
  });
  test('a spring that needs more head than stands above it holds the water', () => {
    const sprung = { ...slope, checkValves: Table.of([valve('K', 'H', [10, 0], 12)]) };
    // 12 kPa are 1.22 m, and the water before the valve stands 1 m above it.
    expect(drained(sprung)['E2']).toBeCloseTo(0.5 * lengthM * LITRES_PER_M, 3);
  });
  test('outlets with a check hold the water up to their closing pressure', () => {
    // 2 psi are 1.406 m: of the 2 m of fall only what stands higher leaves.
    const checked = line([0, -1, -2], [20], 'point-pc-check');
    expect(drainDown(checked).drainedL).toBeCloseTo(((2 - 1.4061) / 2) * lengthM * LITRES_PER_M, 3);
    expect(drainDown(line([0, -0.5, -1], [20], 'point-pc-check')).drainedL).toBe(0);
  });
});

describe('humps and dips', () => {
  test('water beyond a hump drains on its own side', () => {
    const plan = line([0, 2, -3], [2, 18]);
    const up = Math.hypot(10, 2);
    const down = Math.hypot(10, 5);
    expect(drained(plan)['E0']).toBeCloseTo(0.8 * up * LITRES_PER_M, 6);
    expect(drained(plan)['E1']).toBeCloseTo(0.8 * down * LITRES_PER_M, 6);
  });
  test('a hump between two corners of the tubing counts too', () => {
    const levels = [
      level('a', 0, -5, 0),
      level('b', 0, 5, 0),
      level('c', 10, -5, 2),
      level('d', 10, 5, 2),
      level('e', 20, -5, -1),
      level('f', 20, 5, -1),
    ];
    const plan = planOf({
      levels,
      supplies: [supply('V', [0, 0])],
      controls: [control('C', [0, 0])],
      runs: [blank('H', [0, 0], [20, 0])],
      emitters: [emitter('E', 'H', [0.5, 0])],
    });
    // What lies beyond the hump at 10 m stays, and below the outlet at 0.5 m.
    expect(drainDown(plan).drainedL).toBeCloseTo(9.5 * Math.hypot(1, 0.2) * LITRES_PER_M, 6);
  });
  test('a dip holds its water', () => {
    const result = drainDown(line([0, -2, -0.5], [20]));
    // Of the first leg what stands above 0.5 m below the valve; the dip itself stays.
    expect(result.drainedL).toBeCloseTo(0.25 * Math.hypot(10, 2) * LITRES_PER_M, 6);
  });
});

test('level ground, a built-in row, feeders, old pipe behind the control set, and what no supply reaches', () => {
  const plan = planOf({
    supplies: [supply('V', [0, 0])],
    laterals: [lateral('V', 'T', [0, 0], [5, 0])],
    controls: [control('C', [0, 0])],
    runs: [
      dripline('R', [
        [5, 0],
        [9, 0],
      ]),
      blank('X', [50, 0], [60, 0]),
    ],
  });
  const { drainedL, totalL } = drainDown(plan);
  expect(drainedL).toBe(0);
  // 5 m of 0.93 in pipe and 4 m of 14.2 mm dripline.
  const litres = (boreMm: number, lengthM: number): number => (Math.PI / 4) * boreMm ** 2 * lengthM * 1e-3;
  expect(totalL).toBeCloseTo(litres(0.93 * 25.4, 5) + litres(14.2, 4), 6);
  const before = { ...plan, controls: Table.of([control('C', [5, 0])]) };
  expect(drainDown(before).totalL).toBeCloseTo(litres(14.2, 4), 6);
});
