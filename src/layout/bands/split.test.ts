import { describe, expect, test } from 'vitest';
import { polygonArea, polygonContains } from '../../base/polygon.ts';
import { Table } from '../../base/table.ts';
import { blank, control, dripline, emitter, supply } from '../../derive/plan-for-tests.ts';
import { buildPlanNetwork } from '../../derive/network/index.ts';
import { advisedEdit, advisedOf } from '../../derive/slopes/index.ts';
import type { Plan } from '../../plan/records.ts';
import { follow, followed } from '../live/index.ts';
import { filledPlan } from '../live/plan-for-live-tests.ts';
import { area, bedPlan, FT, rectangle } from '../rows/plan-for-fill-tests.ts';
import { advisedIn, bandsOf, hasTubing, splitEdit } from './index.ts';

const BANK = area('A1', rectangle(0, 0, 60 * FT, 26 * FT), { name: 'Bank' });

/** A bank of 60 x 26 ft at 40 % with valve and control set at its foot. */
function bank(more: Partial<Plan> = {}): Plan {
  const plan = bedPlan([BANK], 0, 0.4);
  return {
    ...plan,
    supplies: Table.of([supply('V1', [-1, -1])]),
    controls: Table.of([control('C1', [-1, -1])]),
    climate: { ...plan.climate, lowestWinterC: -8 },
    ...more,
  };
}
function split(plan: Plan): Plan {
  const bands = bandsOf(plan, 'A1', { riseM: null });
  if (!bands.ok) throw new Error(bands.problem.what);
  return followed(plan, splitEdit('A1', bands.value).apply(plan));
}
const names = (plan: Plan) => [...plan.areas].map(({ id, name }) => `${id} ${name}`);

describe('a bed is split into bands', () => {
  test('names, ids, area; plants and hand-drawn runs stay', () => {
    const plan = bank({
      runs: Table.of([
        blank('R1', [0, 0], [0, 7]),
        dripline('R2', [
          [0, 1],
          [9, 1],
        ]),
      ]),
      emitters: Table.of([emitter('E1', 'R1', [0.5, 3])]),
    });
    const next = split(plan);
    expect(names(next)).toEqual(['A1 Bank, band 1 (lowest)', 'A2 Bank, band 2 (highest)']);
    expect([...next.areas].reduce((sum, one) => sum + polygonArea(one.outline, one.holes), 0)).toBeCloseTo(
      60 * 26 * FT * FT,
      3,
    );
    expect(next.runs).toBe(plan.runs);
    expect(next.emitters).toBe(plan.emitters);
    expect(next.plants).toBe(plan.plants);
  });
  test('a bed without a name is called after its id', () => {
    expect(names(split(bank({ areas: Table.of([{ ...BANK, name: ' ' }]) })))[0]).toBe(
      'A1 Bed A1, band 1 (lowest)',
    );
  });
  test('live rows are laid in each band by the same choices, all watered', () => {
    const plan = filledPlan(bank(), { lowerThirdFactor: 1.25 }, { lead: true });
    const bands = bandsOf(plan, 'A1', { riseM: null });
    if (!bands.ok) throw new Error(bands.problem.what);
    const { plan: next, notes } = follow(plan, splitEdit('A1', bands.value).apply(plan));
    expect(notes).toEqual([]);
    const fills = [...next.fills];
    expect(fills.map((fill) => (fill.kind === 'bed' ? fill.areaId : ''))).toEqual(['A1', 'A2']);
    for (const fill of fills) {
      expect(fill.byHand).toBe(false);
      expect(fill.choices).toEqual([...plan.fills][0]!.choices);
      const bed = next.areas.get(fill.kind === 'bed' ? fill.areaId : '')!;
      const rows = fill.runIds.flatMap((id) => next.runs.get(id)!).filter(({ inline }) => inline);
      expect(rows.length).toBeGreaterThan(6);
      for (const { path } of rows)
        for (const p of path) expect(polygonContains(bed.outline, [], p)).toBe(true);
    }
    const ids = fills.flatMap(({ runIds }) => runIds);
    expect(new Set(ids).size).toBe(next.runs.size);
    expect([...plan.runs].filter(({ id }) => next.runs.has(id))).toEqual([]);
    const built = buildPlanNetwork(next);
    expect(built.parts.apartRuns).toEqual([]);
  });
  test('rows changed by hand stay, without their fill', () => {
    const live = filledPlan(bank());
    const plan: Plan = { ...live, fills: Table.of([{ ...[...live.fills][0]!, byHand: true }]) };
    const next = split(plan);
    expect(next.fills.size).toBe(0);
    expect([...next.runs]).toEqual([...plan.runs]);
  });
  test('what sat on live rows sits on the new ones, under its id', () => {
    const live = filledPlan(bank(), {}, { lead: true });
    const plan = advisedEdit(advisedOf(live).parts).apply(live);
    expect(plan.checkValves.size).toBe(2);
    const next = split(plan);
    for (const table of ['checkValves', 'lineParts'] as const) {
      expect([...next[table]].map(({ id }) => id)).toEqual([...plan[table]].map(({ id }) => id));
      for (const { runId } of next[table]) expect(next.runs.has(runId)).toBe(true);
    }
  });
  test('other beds that left it out leave all of it out', () => {
    const live = filledPlan(bank());
    const [fill] = live.fills;
    if (fill?.kind !== 'bed') throw new Error('no fill');
    const other = {
      ...fill,
      id: 'G9',
      areaId: 'A9',
      runIds: [],
      choices: { ...fill.choices, leaveOut: ['A1'] },
    };
    const bands = bandsOf(live, 'A1', { riseM: null });
    if (!bands.ok) throw new Error(bands.problem.what);
    const next = splitEdit('A1', bands.value).apply({ ...live, fills: live.fills.with(other) });
    const kept = next.fills.get('G9');
    expect(kept?.kind === 'bed' && kept.choices.leaveOut).toEqual(['A1', 'A2']);
  });
  test('one band, or a bed that is gone by then, changes nothing', () => {
    const plan = bank();
    const one = bandsOf(plan, 'A1', { riseM: 99 });
    const two = bandsOf(plan, 'A1', { riseM: null });
    if (!one.ok || !two.ok) throw new Error('no bands');
    expect(splitEdit('A1', one.value).apply(plan)).toBe(plan);
    const gone = { ...plan, areas: plan.areas.without(['A1']) };
    expect(splitEdit('A1', two.value).apply(gone)).toBe(gone);
  });
});

describe('what is advised on the invented slope', () => {
  const said = (plan: Plan) =>
    advisedOf(plan).parts.map(({ kind, why, runId }) => `${kind} ${why} ${plan.runs.get(runId)!.name}`);

  test('unsplit: a check at the base of each of two bands, relief at the top, drain at the foot', () => {
    const plan = filledPlan(bank(), {}, { lead: true });
    expect(said(plan)).toEqual([
      'check valve entry Supply line 1',
      'check valve band Supply header',
      'air relief high Supply header',
      'drain low Supply line 1',
    ]);
    const [, band, relief] = advisedOf(plan).parts;
    expect(band!.at[1] / FT).toBeCloseTo(13, 0);
    expect(relief!.at[1] / FT).toBeGreaterThan(25);
    // The flush header joins both bands, and is to be opened at its foot.
    expect(advisedOf(plan).against.map((id) => plan.runs.get(id)!.name)).toEqual(['Flush header']);
  });
  test('split: one check for each band, and nothing is left once all is set', () => {
    const plan = split(filledPlan(bank(), {}, { lead: true }));
    expect(said(plan).filter((one) => one.startsWith('check'))).toEqual([
      'check valve entry Supply line 1',
      'check valve entry Supply line 2',
    ]);
    expect(advisedOf(plan).against).toEqual([]);
    const set = followed(plan, advisedEdit(advisedOf(plan).parts).apply(plan));
    expect(said(set)).toEqual([]);
    expect([...set.fills].every(({ byHand }) => !byHand)).toBe(true);
    expect(buildPlanNetwork(set).parts.checkValves).toHaveLength(2);
  });
  test('by bed: each band has its own', () => {
    const plan = split(filledPlan(bank(), {}, { lead: true }));
    const { parts } = advisedOf(plan);
    const [low, high] = ['A1', 'A2'].map((id) => advisedIn(plan, id, parts));
    expect(low!.map(({ why }) => why)).toContain('entry');
    expect(high!.map(({ why }) => why)).toEqual(['entry', 'high']);
    expect(low!.length + high!.length).toBe(parts.length);
    expect(advisedIn(plan, 'gone', parts)).toEqual([]);
    expect(['A1', 'A2', 'gone'].map((id) => hasTubing(plan, id))).toEqual([true, true, false]);
    const far = { ...bank(), runs: Table.of([blank('R1', [-5, -5], [-1, -1])]) };
    expect(hasTubing(far, 'A1')).toBe(false);
    expect(hasTubing({ ...far, runs: Table.of([blank('R1', [-5, -5], [1, 1])]) }, 'A1')).toBe(true);
  });
});
