import { describe, expect, test } from 'vitest';
import { Table } from '../../base/table.ts';
import { emptyPlan, UNMEASURED_HEAD } from '../../plan/empty.ts';
import type { Head, Plan, Supply } from '../../plan/records.ts';
import { supply } from '../plan-for-tests.ts';
import { existingZones } from './zones.ts';

function planWith(supplies: Supply[], zones: (string | null)[]): Plan {
  const heads = zones.map((zone, i): Head => ({ ...UNMEASURED_HEAD, id: `H${i}`, at: [i, 0], zone }));
  return { ...emptyPlan(), supplies: Table.of(supplies), heads: Table.of(heads) };
}

function found(plan: Plan): [string | null, string | null, number][] {
  return existingZones(plan).map(({ zone, supply: valve, heads }) => [zone, valve?.id ?? null, heads.length]);
}

describe('zones of the old system', () => {
  test('one valve feeds all heads that name no other zone', () => {
    expect(found(planWith([supply('V', [0, 0])], [null, null]))).toEqual([[null, 'V', 2]]);
    expect(found(planWith([supply('V', [0, 0], { zone: '4' })], [null, '4']))).toEqual([['4', 'V', 2]]);
    expect(found(planWith([supply('V', [0, 0], { zone: '4' })], ['5', '5']))).toEqual([['5', null, 2]]);
    expect(found(planWith([supply('V', [0, 0], { zone: '4' })], [null, '5']))).toEqual([
      ['4', 'V', 1],
      ['5', null, 1],
    ]);
  });

  test('several valves: in the order of their names, and without those that have no heads', () => {
    const valves = [
      supply('V2', [0, 0], { zone: '2' }),
      supply('V1', [0, 0], { zone: '1' }),
      supply('V3', [0, 0], { zone: '3' }),
    ];
    expect(found(planWith(valves, ['1', null, '2', '9']))).toEqual([
      [null, null, 1],
      ['1', 'V1', 1],
      ['2', 'V2', 1],
      ['9', null, 1],
    ]);
  });

  test('two valves of one zone: none of them is the zone’s own', () => {
    const valves = [supply('A', [0, 0], { zone: '1' }), supply('B', [0, 0], { zone: '1' })];
    expect(found(planWith(valves, ['1']))).toEqual([['1', null, 1]]);
  });

  test('no valve, no heads', () => {
    expect(found(planWith([], [null]))).toEqual([[null, null, 1]]);
    expect(found(planWith([supply('V', [0, 0])], []))).toEqual([]);
  });
});
