import { describe, expect, test } from 'vitest';
import { Table } from '../../base/table.ts';
import { emptyPlan, UNMEASURED_HEAD } from '../../plan/empty.ts';
import type { Head, Plan, Supply, WorkingPoint } from '../../plan/records.ts';
import { supply } from '../plan-for-tests.ts';
import { flowCheckOf } from './flow-check.ts';

function planWith(
  flows: (number | null)[],
  valve: Partial<Supply>,
  workingPoints: WorkingPoint[] = [],
  more: Partial<Plan> = {},
): Plan {
  const heads = flows.map((flowLph, i): Head => ({ ...UNMEASURED_HEAD, id: `H${i}`, at: [i, 0], flowLph }));
  const empty = emptyPlan();
  return {
    ...empty,
    heads: Table.of(heads),
    supplies: Table.of([supply('V', [0, 0], valve)]),
    water: { ...empty.water, workingPoints },
    ...more,
  };
}

function checkOf(plan: Plan) {
  return flowCheckOf(plan)[0];
}

describe('measured flow against the heads', () => {
  test.each([
    [1000, 0, 'agrees'],
    [1100, 10, 'agrees'],
    [900, -10, 'agrees'],
    [1101, 10.1, 'higher'],
    [899, -10.1, 'lower'],
  ])('%d L/h against 1000: %f percent, %s', (runningFlowLph, percent, verdict) => {
    const check = checkOf(planWith([400, 600], { runningFlowLph, runningFlowHow: 'meter' }))!;
    expect(check).toMatchObject({
      verdict,
      from: 'running flow',
      how: 'meter',
      headsLph: 1000,
      supplyId: 'V',
    });
    expect(check.differencePercent).toBeCloseTo(percent, 9);
  });

  test('says what to look for', () => {
    const meaning = (runningFlowLph: number) => checkOf(planWith([1000], { runningFlowLph }))!.meaning;
    expect(meaning(1300)).toMatch(/leak.*nozzles/);
    expect(meaning(700)).toMatch(/pinched.*flow control.*clogged/);
    expect(meaning(1000)).toMatch(/agrees/);
  });

  test('heads without a flow leave a higher figure open, not a lower one', () => {
    expect(checkOf(planWith([1000, null], { runningFlowLph: 1300 }))).toMatchObject({
      verdict: null,
      headsWithoutFlow: 1,
    });
    expect(checkOf(planWith([1000, null], { runningFlowLph: 800 }))!.verdict).toBe('lower');
  });
});

describe('a working point in place of a measured zone', () => {
  const points = [
    { pressureKpa: 400, flowLph: 200 },
    { pressureKpa: 350, flowLph: 1150, how: 'bucket' as const },
    { pressureKpa: 300, flowLph: 1900 },
  ];

  test('the nearest, and that is said', () => {
    const check = checkOf(planWith([1000], {}, points))!;
    expect(check).toMatchObject({
      from: 'working point',
      measuredLph: 1150,
      how: 'bucket',
      verdict: 'higher',
    });
    expect(check.meaning).toContain('working point');
  });

  test('the zone as measured goes before it', () => {
    expect(checkOf(planWith([1000], { runningFlowLph: 990 }, points))).toMatchObject({
      from: 'running flow',
      measuredLph: 990,
    });
  });

  test('not where it is far from the heads, nor with several valves', () => {
    expect(checkOf(planWith([1000], {}, [points[0]!]))).toBeUndefined();
    const two = { supplies: Table.of([supply('V', [0, 0]), supply('W', [1, 0], { zone: '2' })]) };
    expect(checkOf(planWith([1000], {}, points, two))).toBeUndefined();
  });
});

test('each zone by its own valve', () => {
  const heads = Table.of(
    ['1', '2'].map((zone, i): Head => ({
      ...UNMEASURED_HEAD,
      id: zone,
      at: [i, 0],
      flowLph: 100 * (i + 1),
      zone,
    })),
  );
  const supplies = Table.of([
    supply('V1', [0, 0], { zone: '1', runningFlowLph: 100 }),
    supply('V2', [0, 0], { zone: '2', runningFlowLph: 100 }),
  ]);
  expect(
    flowCheckOf({ ...emptyPlan(), heads, supplies }).map(({ zone, verdict }) => [zone, verdict]),
  ).toEqual([
    ['1', 'agrees'],
    ['2', 'lower'],
  ]);
});

test('nothing measured, no head, no valve: no check', () => {
  expect(checkOf(planWith([1000], {}))).toBeUndefined();
  expect(checkOf(planWith([null], { runningFlowLph: 5 }))).toBeUndefined();
  expect(flowCheckOf({ ...planWith([1000], {}), supplies: Table.of() })).toEqual([]);
});
