import { describe, expect, test } from 'vitest';
import { Table } from '../../base/table.ts';
import { UNMEASURED_HEAD } from '../../plan/empty.ts';
import type { HeadFate, Plan, WaterService } from '../../plan/records.ts';
import { control, dripline, level, planOf, supply } from '../plan-for-tests.ts';
import { studyOf } from '../study.ts';

const INCH = 0.0254;
const find = (plan: Plan, rule: string) => studyOf(plan).notices.find((notice) => notice.rule === rule);

/** A run from 0 to 9 m east, on ground that rises by 3 ft there. */
const hill = (water: Partial<WaterService>): Plan => {
  const plan = planOf({
    levels: [level('a', 0, 0, 0), level('b', 9, 0, 0.9144)],
    supplies: [supply('V', [0, 0])],
    controls: [control('C', [0, 0])],
    runs: [
      dripline('R', [
        [0, 0],
        [9, 0],
      ]),
    ],
  });
  return { ...plan, water: { ...plan.water, ...water } };
};
const highestM = (plan: Plan) => Math.max(...studyOf(plan).results.outlets.map(({ zM }) => zM));
const bedOnly = (water: Partial<WaterService>): Plan => {
  const plan = hill(water);
  return {
    ...plan,
    runs: Table.of(),
    controls: Table.of(),
    areas: Table.of([
      {
        id: 'B1',
        use: 'bed',
        name: '',
        outline: [
          [0, 0],
          [9, 0],
          [9, 2],
          [0, 2],
        ],
        holes: [],
      },
    ]),
  };
};

describe('height of a vacuum breaker', () => {
  // 6 in for an atmospheric, 12 in for a pressure vacuum breaker: Paris TX, Gilbert AZ.
  test.each([
    ['AVB', 6],
    ['PVB', 12],
  ])('%s: %i in above the highest outlet, not an inch less', (backflowType, inches) => {
    const top = highestM(hill({}));
    expect(top).toBeGreaterThan(0.8);
    const at = (above: number) => hill({ backflowType, backflowZM: top + above * INCH });
    expect(find(at(inches), 'backflow-height')).toBeUndefined();
    expect(find(at(inches + 30), 'backflow-height')).toBeUndefined();
    const low = find(at(inches - 1), 'backflow-height')!;
    expect(low).toMatchObject({ severity: 'error', message: expect.stringContaining('only') });
    expect(low.refs).toContainEqual({ table: 'runs', id: 'R' });
    const below = find(at(-10), 'backflow-height')!;
    expect(below.message).toContain('10" below the highest outlet');
    expect(below.message).toContain('local code and licensed practice come first');
  });

  test('spray heads that are kept count with the outlets', () => {
    const top = highestM(hill({}));
    const site = (fate: HeadFate): Plan => ({
      ...hill({ backflowType: 'AVB', backflowZM: top + 6 * INCH }),
      levels: Table.of([level('a', 0, 0, 0), level('b', 9, 0, 0.9144), level('c', 20, 0, 5)]),
      heads: Table.of([{ ...UNMEASURED_HEAD, id: 'K', at: [20, 0] as const, fate }]),
    });
    const told = find(site('keep'), 'backflow-height')!;
    expect(told.severity).toBe('error');
    expect(told.message).toContain('below the highest spray head');
    expect(told.refs).toContainEqual({ table: 'heads', id: 'K' });
    expect(find(site('cap'), 'backflow-height')).toBeUndefined();
  });

  test('before drip is drawn, the highest ground of the beds counts', () => {
    const told = find(bedOnly({ backflowType: 'PVB', backflowZM: 0.5 }), 'backflow-height')!;
    expect(told.severity).toBe('error');
    expect(told.message).toMatch(/below the highest ground of the beds/);
    expect(told.refs).toContainEqual({ table: 'areas', id: 'B1' });
    expect(find(bedOnly({ backflowType: 'PVB', backflowZM: 1.3 }), 'backflow-height')).toBeUndefined();
    expect(find(bedOnly({ backflowType: 'PVB' }), 'backflow-height')!.severity).toBe('info');
  });

  test('a level inside of a bed counts, one outside does not', () => {
    const mound = (x: number): Plan => ({
      ...bedOnly({ backflowType: 'PVB', backflowZM: 1.5 }),
      levels: Table.of([
        level('a', 0, 0, 0),
        level('b', 9, 0, 0),
        level('c', 4, 2, 0),
        level('top', x, 1, 2),
      ]),
    });
    expect(find(mound(4), 'backflow-height')).toBeDefined();
    // Its plane carries the bed's corner only 0.3 m up.
    expect(find(mound(40), 'backflow-height')).toBeUndefined();
  });

  test('without levels it says that the ground counts as flat', () => {
    const flat = { ...hill({ backflowType: 'PVB', backflowZM: 0.1 }), levels: Table.of<never>() };
    expect(find(flat, 'backflow-height')!.message).toContain('No level is measured');
  });

  test('a reduced-pressure device does not rely on height, and is told to stand above grade', () => {
    const plan = hill({ backflowType: 'RP', backflowZM: -3 });
    expect(find(plan, 'backflow-height')).toBeUndefined();
    expect(find(plan, 'backflow-grade')).toMatchObject({
      severity: 'info',
      message: expect.stringContaining(`1' 0"`),
    });
    expect(find(hill({ backflowType: 'DC', backflowZM: -3 }), 'backflow-grade')).toBeUndefined();
  });
});

describe('atmospheric vacuum breaker', () => {
  const hours = (backflowType: string, longestRunMin: number | null, startsPerDay: number | null): Plan => {
    const plan = hill({ backflowType });
    return { ...plan, controller: { ...plan.controller, longestRunMin, startsPerDay } };
  };
  test('not under pressure for more than 12 h in 24', () => {
    expect(find(hours('AVB', 240, 4), 'backflow-hours')!.message).toContain('16 h a day');
    expect(find(hours('AVB', 240, 3), 'backflow-hours')).toBeUndefined();
    expect(find(hours('AVB', 721, null), 'backflow-hours')).toBeDefined();
    expect(find(hours('AVB', null, 9), 'backflow-hours')).toBeUndefined();
    expect(find(hours('PVB', 999, 9), 'backflow-hours')).toBeUndefined();
  });
  test('no shut-off after it: check valves, several zone valves', () => {
    const plan = hill({ backflowType: 'AVB' });
    expect(find(plan, 'backflow-valve-after')).toBeUndefined();
    const checked: Plan = {
      ...plan,
      checkValves: Table.of([{ id: 'K', runId: 'R', at: [4, 0], openKpa: 7 }]),
    };
    expect(find(checked, 'backflow-valve-after')).toMatchObject({
      severity: 'error',
      refs: [{ table: 'checkValves', id: 'K' }],
    });
    const two: Plan = { ...plan, supplies: plan.supplies.with(supply('W', [20, 20])) };
    expect(find(two, 'backflow-valve-after')!.severity).toBe('warning');
    const pressure = { ...two, water: { ...two.water, backflowType: 'PVB' } };
    expect(find(pressure, 'backflow-valve-after')).toBeUndefined();
  });
});
