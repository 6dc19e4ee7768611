import { describe, expect, test } from 'vitest';
import { distance } from '../../base/point.ts';
import { nearestOnPath } from '../../base/polyline.ts';
import { Table } from '../../base/table.ts';
import { control } from '../../derive/plan-for-tests.ts';
import { change, move, moveVertex, remove, type Edit } from '../../plan/edits/index.ts';
import type { Plan, Plant } from '../../plan/records.ts';
import { ringDefaults } from '../rings/index.ts';
import { fillEdit } from '../rows/index.ts';
import { area, bedPlan, rectangle } from '../rows/plan-for-fill-tests.ts';
import { follow, followed } from './follow.ts';
import { filledPlan, freshly, runsOfFill, theFill, tubingOf } from './plan-for-live-tests.ts';
import { ringEdit } from './ring-edit.ts';

const tree = (id: string, x: number, y: number): Plant => ({
  id,
  at: [x, y],
  name: '',
  plantClass: 'tree',
  canopyNowM: 4,
  canopyMatureM: 8,
  rootBallM: null,
  waterUse: null,
});

function ringedPlan(ids: readonly string[], lead = true): Plan {
  const plan: Plan = {
    ...bedPlan([area('P', rectangle(9, 0, 2, 8), { use: 'paving' })]),
    plants: Table.of([tree('T1', 3, 3), tree('T2', 3, 14)]),
    controls: Table.of([control('C1', [-3, 3])]),
  };
  return ringEdit(
    ids.map((plantId) => ({ plantId, choices: ringDefaults(plan, plantId).choices })),
    lead,
  ).apply(plan);
}

const after = (plan: Plan, edit: Edit): Plan => followed(plan, edit.apply(plan));

function expectFresh(plan: Plan): void {
  const fresh = freshly(plan);
  if (!fresh.ok) throw new Error(fresh.problem.what);
  expect(theFill(plan).byHand).toBe(false);
  expect(tubingOf(runsOfFill(plan))).toEqual(tubingOf(fresh.value.runs));
}

describe('rings follow their tree', () => {
  const plan = ringedPlan(['T1']);
  const farthest = (on: Plan): number =>
    Math.max(
      ...runsOfFill(on)
        .filter(({ inline }) => inline)
        .flatMap(({ path }) => path.map((p) => distance(p, on.plants.get('T1')!.at))),
    );

  test('when it is moved', () => {
    const next = after(plan, move('', [{ table: 'plants', id: 'T1' }], 1, 2));
    expectFresh(next);
    expect(farthest(next)).toBeCloseTo(2, 2);
    expect(theFill(next).runIds).toEqual(theFill(plan).runIds);
  });

  test('when its canopy grows', () => {
    const next = after(plan, change('', 'plants', ['T1'], { canopyNowM: 6 }));
    expectFresh(next);
    expect(farthest(next)).toBeCloseTo(3, 2);
  });

  test('when paving comes near, or another stem', () => {
    const paved = after(plan, moveVertex('', { table: 'areas', id: 'P', ring: 0, index: 0 }, [3.5, 2]));
    expectFresh(paved);
    expect(tubingOf(runsOfFill(paved))).not.toEqual(tubingOf(runsOfFill(plan)));
    const beside = after(plan, move('', [{ table: 'plants', id: 'T2' }], 1.4, -11));
    expectFresh(beside);
    expect(tubingOf(runsOfFill(beside))).not.toEqual(tubingOf(runsOfFill(plan)));
  });

  test('not for the name of the tree or a tree far away', () => {
    const named = after(plan, change('', 'plants', ['T1'], { name: 'Oak' }));
    expect(named.runs).toBe(plan.runs);
    expect(after(plan, move('', [{ table: 'plants', id: 'T2' }], 1, 0)).runs).toBe(plan.runs);
  });

  test('a canopy too small keeps the rings', () => {
    const next = after(plan, change('', 'plants', ['T1'], { canopyNowM: 0.1 }));
    expect(next.runs).toBe(plan.runs);
    expect(theFill(next).byHand).toBe(true);
  });
});

test('several trees are ringed as one step, and ringed again in place of the rings before', () => {
  const plan = ringedPlan(['T1', 'T2']);
  expect(plan.fills.size).toBe(2);
  for (const fill of plan.fills) {
    expect(fill.leadIds!.length).toBe(1);
    expect(fill.runIds.every((id) => plan.runs.has(id))).toBe(true);
  }
  const again = ringEdit(
    [...plan.fills].flatMap((fill) => (fill.kind === 'tree' ? [fill] : [])),
    false,
  ).apply(plan);
  expect(again.fills.size).toBe(2);
  const owned = new Set([...again.fills].flatMap(({ runIds }) => runIds));
  expect([...again.runs].every(({ id }) => owned.has(id))).toBe(true);
  expect([...again.fills].every(({ leadIds }) => leadIds === undefined)).toBe(true);
});

test('a bed that is filled anew leaves the rings that lie in it', () => {
  const ringed = ringedPlan(['T1']);
  const bed = area('A1', rectangle(-6, -6, 30, 30));
  const plan = { ...ringed, areas: ringed.areas.with(bed) };
  const filled = filledPlan(plan, {}, { areaId: 'A1' });
  for (const id of theFill(ringed).runIds) expect(filled.runs.get(id)).toBe(ringed.runs.get(id));
  const [, own] = [...filled.fills];
  expect(own).toMatchObject({ kind: 'bed', areaId: 'A1', byHand: false });
  const bare = { runs: [], flushEnds: [], starts: [] };
  const emptied = fillEdit(
    filled,
    'A1',
    { ...bare, figures: {} as never, notes: [] },
    { replace: true },
  ).apply(filled);
  expect([...emptied.runs].map(({ id }) => id)).toEqual(theFill(ringed).runIds);
  expect(emptied.fills.size).toBe(1);
});

describe('rings in a bed of rows', () => {
  const choices = (plan: Plan) => ringDefaults(plan, 'T1').choices;
  const rows: Plan = {
    ...filledPlan(bedPlan([area('A1', rectangle(-2, -2, 10, 10))])),
    plants: Table.of([tree('T1', 3, 3)]),
  };
  const nearest = (on: Plan): number => {
    const bed = [...on.fills].find(({ kind }) => kind === 'bed')!;
    const paths = runsOfFill(on, bed).flatMap(({ path, inline }) => (inline ? [path] : []));
    return Math.min(...paths.map((path) => nearestOnPath(path, [3, 3]).distance));
  };
  const edit = (clearRows: boolean) =>
    ringEdit([{ plantId: 'T1', choices: { ...choices(rows), clearRows } }], false);

  test('rows keep half their spacing away from the outermost ring, and come back when the rings go', () => {
    expect(nearest(rows)).toBeLessThan(0.5);
    const ringed = after(rows, edit(true));
    const bed = [...ringed.fills].find((fill) => fill.kind === 'bed')!;
    expect(bed.byHand).toBe(false);
    const spacingM = (bed.choices as { rowSpacingM: number }).rowSpacingM;
    expect(nearest(ringed)).toBeGreaterThan(2 + spacingM / 2 - 0.05);
    const rings = [...ringed.fills].find(({ kind }) => kind === 'tree')!;
    const gone = after(
      ringed,
      remove('', [
        { table: 'fills', id: rings.id },
        ...rings.runIds.map((id) => ({ table: 'runs', id }) as const),
      ]),
    );
    expect(nearest(gone)).toBeLessThan(0.5);
  });

  test('unless they are to stay', () => {
    const ringed = after(rows, edit(false));
    expect(nearest(ringed)).toBe(nearest(rows));
    const rings = [...ringed.fills].find(({ kind }) => kind === 'tree')!;
    const cleared = after(
      ringed,
      change('', 'fills', [rings.id], { choices: { ...choices(ringed), clearRows: true } as never }),
    );
    expect(nearest(cleared)).toBeGreaterThan(2);
  });

  test('while the rings are only shown, too', () => {
    const shown = follow(rows, edit(true).apply(rows), { drafted: true }).plan;
    expect(nearest(shown)).toBeGreaterThan(2);
  });
});
