import { describe, expect, test } from 'vitest';
import { Table } from '../../base/table.ts';
import { FOOT_M } from '../../base/units.ts';
import type { Plan } from '../../plan/records.ts';
import { buildPlanNetwork } from '../network/index.ts';
import { blank, control, dripline, level, planOf, supply } from '../plan-for-tests.ts';
import { drainDown } from '../scenarios/drain-down.ts';
import { advisedEdit, advisedOf, bandCount, checkPlaces } from './index.ts';

/** Ground that rises by a share to the north; rows on a header that runs up it, fed from a lead at its foot. */
function slope(share: number, rowsAt: readonly number[], more: Partial<Plan> = {}, law = 'inline-pc'): Plan {
  const top = rowsAt.at(-1)!;
  const plan = planOf({
    levels: [level('Z1', 0, 0, 0), level('Z2', 30, 0, 0), level('Z3', 0, 30, 30 * share)],
    supplies: [supply('V', [0, 0])],
    controls: [control('C', [0, 0])],
    runs: [
      blank('Lead', [0, 0], [0, rowsAt[0]!]),
      blank('Header', [0, rowsAt[0]!], ...rowsAt.slice(1).map((y) => [0, y] as const)),
      ...rowsAt.map((y, i) =>
        dripline(
          `Row ${i + 1}`,
          [
            [0, y],
            [6, y],
          ],
          { law },
        ),
      ),
    ],
  });
  if (!(top > 0)) throw new Error('rows lie above the valve');
  return { ...plan, ...more };
}
const valves = (plan: Plan) =>
  checkPlaces(plan, buildPlanNetwork(plan)).places.map(({ why, runId, zM }) => [
    why,
    runId,
    Number(zM.toFixed(2)),
  ]);
const rowsTo = (top: number) => Array.from({ length: Math.floor(top) - 1 }, (_, i) => i + 2);

describe('check valves', () => {
  test('before the first row, and at the base of each band of 10 ft', () => {
    // Rows at 2 to 16 m, rise 0.4: 5.6 m are 18.4 ft, two bands.
    const plan = slope(0.4, rowsTo(16));
    expect(valves(plan)).toEqual([
      ['entry', 'Lead', 0.68],
      ['band', 'Header', 3.6],
    ]);
    const [entry] = advisedOf(plan).parts;
    expect(entry!.at[1]).toBeCloseTo(1.7, 9);
  });
  test('none where rows differ by up to a foot, by the limit of design check 25', () => {
    const nearly = (2 + (0.99 * FOOT_M) / 0.1) as number;
    expect(valves(slope(0.1, [2, nearly]))).toEqual([]);
    expect(valves(slope(0.1, [2, nearly + 0.1]))).toHaveLength(1);
    const plan = slope(0.4, rowsTo(16));
    const limited: Plan = { ...plan, checks: { ...plan.checks, limits: { 'drain-down.fall': 6 } } };
    expect(valves(limited)).toEqual([]);
  });
  test('none where the emitters hold back all of it', () => {
    expect(valves(slope(0.2, [2, 4], {}, 'inline-pc-check'))).toEqual([]);
    expect(valves(slope(0.2, [2, 4]))).toHaveLength(1);
    expect(valves(slope(0.4, rowsTo(16), {}, 'inline-pc-check'))).toHaveLength(2);
  });
  test('not again where one is set, wherever it stands on the lead', () => {
    const plan = slope(0.4, rowsTo(16));
    const set = advisedEdit(advisedOf(plan).parts.filter(({ kind }) => kind === 'check valve')).apply(plan);
    expect(valves(set)).toEqual([]);
    const own: Plan = {
      ...plan,
      checkValves: Table.of([{ id: 'K1', runId: 'Lead', at: [0, 0.4], openKpa: 7 }]),
    };
    expect(valves(own)).toEqual([['band', 'Header', 3.6]]);
  });
  test('set, they pass the water on and hold back what stands above', () => {
    const plan = slope(0.4, rowsTo(16), {}, 'inline-plain');
    const set = advisedEdit(advisedOf(plan).parts.filter(({ kind }) => kind === 'check valve')).apply(plan);
    expect(buildPlanNetwork(set).parts.apartRuns).toEqual([]);
    // The lowest row no longer gets what stands in the rows of the band above.
    const atFoot = (one: Plan) =>
      drainDown(one).outlets.reduce((sum, { runId, volumeL }) => sum + (runId === 'Row 1' ? volumeL : 0), 0);
    expect(atFoot(plan)).toBeGreaterThan(0);
    expect(atFoot(set)).toBeLessThan(0.8 * atFoot(plan));
  });
  test('a header drawn downhill is told, since a valve would shut it off', () => {
    const plan = slope(0.4, rowsTo(16));
    const header = plan.runs.get('Header')!;
    const turned: Plan = { ...plan, runs: plan.runs.with({ ...header, path: header.path.toReversed() }) };
    expect(valves(turned)).toEqual([['entry', 'Lead', 0.68]]);
    expect(checkPlaces(turned, buildPlanNetwork(turned)).against).toEqual(['Header']);
  });
  test('fed from above none: water that comes down would have to pass it', () => {
    const plan = slope(0.4, rowsTo(16));
    const above: Plan = {
      ...plan,
      supplies: Table.of([supply('V', [0, 18])]),
      controls: Table.of([control('C', [0, 18])]),
      runs: Table.of([blank('Lead', [0, 18], [0, 16]), ...[...plan.runs].filter(({ id }) => id !== 'Lead')]),
    };
    expect(valves(above)).toEqual([]);
  });
  test('two beds on one lead: each has its own', () => {
    const plan = planOf({
      levels: [level('Z1', 0, 0, 0), level('Z2', 30, 0, 0), level('Z3', 0, 30, 12)],
      supplies: [supply('V', [0, 0])],
      controls: [control('C', [0, 0])],
      runs: [
        blank('Lead 1', [0, 0], [0, 2]),
        blank('Lead 2', [0, 1], [-2, 1], [-2, 10]),
        blank('Header 1', [0, 2], [0, 4]),
        blank('Header 2', [-2, 10], [-2, 12]),
        ...[2, 4].map((y) =>
          dripline(`Low ${y}`, [
            [0, y],
            [6, y],
          ]),
        ),
        ...[10, 12].map((y) =>
          dripline(`High ${y}`, [
            [-2, y],
            [-8, y],
          ]),
        ),
      ],
    });
    expect(valves(plan).map(([why, run]) => `${why} ${run}`)).toEqual(['entry Lead 1', 'entry Lead 2']);
  });
  test('nothing without water, without tubing, without heights', () => {
    const plan = slope(0.4, rowsTo(16));
    const dry: Plan = { ...plan, supplies: Table.of([]), controls: Table.of([]) };
    expect(valves(dry)).toEqual([]);
    expect(advisedOf(dry).apart).toContain('Header');
    expect(advisedOf(plan).apart).toEqual([]);
    expect(advisedOf({ ...plan, runs: Table.of([]) })).toEqual({ parts: [], against: [], apart: [] });
    expect(advisedOf({ ...plan, levels: Table.of([]) })).toEqual({ parts: [], against: [], apart: [] });
  });
});

describe('air reliefs and drains', () => {
  const kinds = (plan: Plan) =>
    advisedOf(plan)
      .parts.map(({ kind }) => kind)
      .filter((kind) => kind !== 'check valve');
  const plan = slope(0.4, rowsTo(16));
  test('as the design checks find them', () => {
    // One for each of the two bands that the check valves part.
    expect(kinds(plan)).toEqual(['air relief', 'air relief']);
    expect(kinds({ ...plan, climate: { ...plan.climate, lowestWinterC: -1 } })).toEqual([
      'air relief',
      'air relief',
      'drain',
      'drain',
      'drain',
    ]);
    expect(kinds({ ...plan, soil: { ...plan.soil, coverKind: 'bare' } })).toEqual([]);
  });
  test('one step sets all, and undone it is as before', () => {
    const edit = advisedEdit(advisedOf(plan).parts);
    expect(edit.label).toBe('Set what is advised');
    const set = edit.apply(plan);
    expect(set.lineParts.size).toBe(2);
    expect(set.checkValves.size).toBe(2);
    expect(advisedOf(set).parts).toEqual([]);
    expect(advisedEdit(advisedOf(plan).parts.slice(0, 1)).label).toBe('Set check valve');
    const gone: Plan = { ...plan, runs: plan.runs.without(['Header']) };
    const rest = edit.apply(gone);
    expect([...rest.checkValves].map(({ runId }) => runId)).toEqual(['Lead']);
    expect(rest.lineParts.size).toBe(0);
  });
});

test.each([
  [0, null, 1],
  [-1, null, 1],
  [NaN, null, 1],
  [5 * FOOT_M, null, 1],
  [5.01 * FOOT_M, null, 2],
  [10.4 * FOOT_M, null, 2],
  [29.5 * FOOT_M, null, 3],
  [9, 3, 3],
  [9.1, 3, 4],
  [9, Infinity, 1],
])('%f m in bands of at most %s: %i', (riseM, mostM, count) => {
  expect(bandCount(riseM, mostM)).toBe(count);
});
