import { describe, expect, test } from 'vitest';
import { Table } from '../../base/table.ts';
import type { Plan, WaterService } from '../../plan/records.ts';
import { blank, control, dripline, level, planOf, PSI, supply } from '../plan-for-tests.ts';
import { studyOf } from '../study.ts';

const find = (plan: Plan, rule: string) => studyOf(plan).notices.find((notice) => notice.rule === rule);
const base = planOf({
  supplies: [supply('V', [0, 0])],
  controls: [control('C', [0, 0])],
  runs: [
    dripline('R', [
      [0, 0],
      [9, 0],
    ]),
  ],
});
const withWater = (water: Partial<WaterService>, plan = base): Plan => ({
  ...plan,
  water: { ...plan.water, ...water },
});

describe('dead ends', () => {
  test('a closed end is told, a flush end or a loop is well', () => {
    expect(find(base, 'dead-end')).toMatchObject({ severity: 'info', refs: [{ table: 'runs', id: 'R' }] });
    const opened = { ...base, flushEnds: Table.of([{ id: 'F', runId: 'R', end: 'end' as const }]) };
    expect(find(opened, 'dead-end')).toBeUndefined();
    const ring = {
      ...base,
      runs: Table.of([
        dripline('R', [
          [0, 0],
          [5, 0],
          [5, 5],
          [0, 5],
          [0, 0],
        ]),
      ]),
    };
    expect(find(ring, 'dead-end')).toBeUndefined();
  });
  test('the wrong end opened does not help, and a run that nothing feeds is told otherwise', () => {
    const wrong = { ...base, flushEnds: Table.of([{ id: 'F', runId: 'R', end: 'start' as const }]) };
    expect(find(wrong, 'dead-end')).toBeDefined();
    const apart = { ...base, runs: base.runs.with(blank('X', [50, 0], [60, 0])) };
    expect(find(apart, 'dead-end')!.refs).toEqual([{ table: 'runs', id: 'R' }]);
  });
});

describe('with no flow', () => {
  test('outlets on low ground over their limit, and fittings', () => {
    const low = (fallM: number, setPsi: number): Plan => ({
      ...base,
      levels: Table.of([level('a', 0, 0, 0), level('b', 9, 0, -fallM)]),
      controls: Table.of([control('C', [0, 0], { setKpa: setPsi * PSI })]),
      supplies: Table.of([supply('V', [0, 0], { pressureKpa: 80 * PSI })]),
    });
    // 25 psi hold while water runs; at rest 28.8, and 1 m down 30.2 psi, within half a percent of 30; 2 m down 31.6.
    expect(find(low(0, 25), 'static-pressure-outlets')).toBeUndefined();
    const told = find(low(2, 25), 'static-pressure-outlets')!;
    expect(told.severity).toBe('error');
    expect(told.message).toContain('31.6 psi, and may have 30.0 psi');
    expect(find(low(2, 25), 'static-pressure-fittings')).toBeUndefined();
    const fittings = find(low(4, 40), 'static-pressure-fittings')!;
    expect(fittings.message).toContain('usually hold 50.0 psi');
    expect(fittings.refs).toEqual([{ table: 'runs', id: 'R' }]);
  });
});

describe('meter', () => {
  test('three quarters of its safe maximum', () => {
    const many = {
      ...base,
      controls: Table.of([control('C', [0, 0], { regulator: 'window-10-32' })]),
      runs: Table.of(
        Array.from({ length: 24 }, (_, k) =>
          dripline(
            `R${k}`,
            [
              [0, 0],
              [60, k * 3],
            ],
            { law: 'inline-pc', ratedFlowLph: 3.4 },
          ),
        ),
      ),
      supplies: Table.of([supply('V', [0, 0], { pressureKpa: 700 })]),
    };
    // 5/8 in: 20 gpm, of which 15 may be used.
    const told = find(withWater({ meterSize: '5/8' }, many), 'meter-flow-high')!;
    expect(told.message).toMatch(/draws [\d.]+ gpm through the 5\/8 in meter, more than the 15\.0 gpm/);
    expect(find(withWater({ meterSize: '2' }, many), 'meter-flow-high')).toBeUndefined();
    expect(find(withWater({ meterSize: '5/8' }), 'meter-flow-high')).toBeUndefined();
    expect(find(many, 'meter-flow-high')).toBeUndefined();
  });
});

describe('backflow preventer', () => {
  test('vacuum breakers ask for their height, with the caution; others do not', () => {
    const told = find(withWater({ backflowType: 'PVB' }), 'backflow-height')!;
    expect(told.severity).toBe('info');
    expect(told.message).toContain(`at least 1' 0" above the highest outlet`);
    expect(told.message).toContain('local code and licensed practice come first');
    expect(find(withWater({ backflowType: 'AVB' }), 'backflow-height')!.message).toContain('6"');
    for (const backflowType of ['RP', 'DC', null, 'odd']) {
      expect(find(withWater({ backflowType }), 'backflow-height')).toBeUndefined();
    }
  });
  test('how far the highest outlet lies above the valve', () => {
    const hill = withWater(
      { backflowType: 'PVB' },
      { ...base, levels: Table.of([level('a', 0, 0, 0), level('b', 9, 0, 0.9144)]) },
    );
    expect(find(hill, 'backflow-height')!.message).toMatch(
      /highest outlet lies 2' 11.*" above the valve|lies 3' 0"/,
    );
  });
});
