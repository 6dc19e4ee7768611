import { describe, expect, test } from 'vitest';
import type { Point } from '../base/point.ts';
import { Table } from '../base/table.ts';
import { fillDefaults, fillBed, fillEdit } from '../layout/rows/index.ts';
import { emptyPlan, UNMEASURED_LATERAL } from '../plan/empty.ts';
import type { Area, Plan, Plant, PointEmitter, Run } from '../plan/records.ts';
import { allAlike, allInBed, bedOf } from './choose.ts';
import { plantChoice } from './choices.ts';
import { createEditor } from './store.ts';

const box = (x: number, y: number, wide: number, high: number): Point[] => [
  [x, y],
  [x + wide, y],
  [x + wide, y + high],
  [x, y + high],
];
const bed = (id: string, outline: Point[]): Area => ({ id, use: 'bed', name: id, outline, holes: [] });
const shrub = (id: string, at: Point, name = ''): Plant => ({ ...plantChoice('shrub', name), id, at });
const run = (id: string, ...path: Point[]): Run => ({
  id,
  name: id,
  path,
  tubing: 'blank-half-600',
  inline: null,
});
const emitter = (id: string, runId: string, at: Point, plantId: string | null): PointEmitter => ({
  id,
  runId,
  at,
  plantId,
  law: 'point-pc',
  ratedFlowLph: 3.8,
});
const planOf = (parts: Partial<Plan>): Plan => ({ ...emptyPlan(), ...parts });
const site = planOf({
  areas: Table.of([bed('A1', box(0, 0, 4, 4)), bed('A2', box(10, 5, 6, 6))]),
  plants: Table.of([shrub('P1', [1, 1], 'Sage'), shrub('P2', [2, 2], 'sage '), shrub('P3', [12, 7], 'Rose')]),
  runs: Table.of([run('R1', [0.5, 1], [3, 1])]),
  emitters: Table.of([emitter('E1', 'R1', [1.2, 1], 'P1'), emitter('E2', 'R1', [2, 1.8], 'P2')]),
  flushEnds: Table.of([{ id: 'F1', runId: 'R1', end: 'end' as const }]),
});
function editorOf(plan: Plan) {
  const editor = createEditor(plan);
  editor.show('layout');
  return editor;
}
const now = (editor: ReturnType<typeof createEditor>) => editor.store.getState().history.plan;

describe('copies', () => {
  test('into another bed, from corner to corner, with emitters and parts', () => {
    const editor = editorOf(site);
    editor.select([
      { table: 'plants', id: 'P1' },
      { table: 'runs', id: 'R1' },
    ]);
    editor.copyToBed('A2');
    const plan = now(editor);
    expect(plan.plants.get('P4')!.at).toEqual([11, 6]);
    expect(plan.runs.get('R2')!.path).toEqual([
      [10.5, 6],
      [13, 6],
    ]);
    expect(plan.emitters.get('E3')).toMatchObject({ runId: 'R2', plantId: 'P4', at: [11.2, 6] });
    // The other emitter of the run came along, without the plant that did not.
    expect(plan.emitters.get('E4')).toMatchObject({ runId: 'R2', plantId: null });
    expect(plan.flushEnds.get('F2')).toEqual({ id: 'F2', runId: 'R2', end: 'end' });
    expect(editor.store.getState().selection).toEqual([
      { table: 'plants', id: 'P4' },
      { table: 'runs', id: 'R2' },
    ]);
    editor.undo();
    expect(now(editor)).toBe(site);
  });
  test('the middle comes to the pointer', () => {
    const editor = editorOf(site);
    editor.select([
      { table: 'plants', id: 'P1' },
      { table: 'plants', id: 'P2' },
    ]);
    expect(editor.copySelection()).toBe(true);
    editor.input({ kind: 'move', at: [20, 20] });
    editor.paste();
    expect([...now(editor).plants].slice(3).map(({ at }) => at)).toEqual([
      [19.5, 19.5],
      [20.5, 20.5],
    ]);
  });
  test('plants alone bring their emitters where tubing lies near, and say what found none', () => {
    const plan = { ...site, runs: site.runs.with(run('R2', [10.5, 6.5], [13, 6.5])) };
    const editor = editorOf(plan);
    editor.select([{ table: 'plants', id: 'P1' }]);
    editor.copyToBed('A2');
    expect(now(editor).emitters.get('E3')).toMatchObject({ runId: 'R2', plantId: 'P4' });
    editor.undo();
    editor.select([{ table: 'plants', id: 'P1' }]);
    editor.copySelection();
    editor.paste([40, 40]);
    expect(now(editor).emitters.size).toBe(2);
    expect(editor.store.getState().saying?.text).toContain('left out');
  });
  test('into another plan, under ids that are free there', () => {
    const editor = editorOf(site);
    editor.select([
      { table: 'plants', id: 'P1' },
      { table: 'runs', id: 'R1' },
    ]);
    editor.copySelection();
    editor.open(planOf({ plants: Table.of([shrub('P7', [0, 0])]) }));
    editor.show('layout');
    editor.paste([5, 5]);
    const plan = now(editor);
    expect([...plan.plants].map(({ id }) => id)).toEqual(['P7', 'P8']);
    expect(plan.emitters.get('E1')).toMatchObject({ runId: 'R1', plantId: 'P8' });
    expect([...plan.runs].map(({ id }) => id)).toEqual(['R1']);
  });
  test('a fill goes along where it fits, else its runs are plain', () => {
    const plain = {
      ...site,
      runs: Table.of<Run>(),
      emitters: Table.of<PointEmitter>(),
      flushEnds: emptyPlan().flushEnds,
    };
    const { choices } = fillDefaults(plain, 'A1');
    const rows = fillBed(plain, 'A1', choices);
    if (!rows.ok) throw new Error(rows.problem.what);
    const filled = fillEdit(plain, 'A1', rows.value, { replace: false, choices }).apply(plain);
    const runs = [...filled.runs].map(({ id }) => ({ table: 'runs', id }) as const);
    expect(runs.length).toBeGreaterThan(1);
    const editor = editorOf(filled);
    editor.select(runs);
    editor.copyToBed('A2');
    const fills = [...now(editor).fills];
    expect(now(editor).runs.size).toBeGreaterThan(filled.runs.size);
    expect(fills).toHaveLength(2);
    expect(fills[1]).toMatchObject({ kind: 'bed', areaId: 'A2' });
    expect(fills[1]!.runIds.every((id) => now(editor).runs.has(id))).toBe(true);
    editor.undo();
    editor.select(runs);
    editor.copySelection();
    editor.paste([40, 40]);
    expect(now(editor).fills.size).toBe(1);
    expect(now(editor).runs.size).toBe(2 * filled.runs.size);
  });
  test('old pipes are joined to each other as before, under names of their own', () => {
    const pipe = (id: string, from: string, to: string, a: Point, b: Point) => ({
      ...UNMEASURED_LATERAL,
      id,
      from,
      to,
      a,
      b,
    });
    const plan = planOf({
      laterals: Table.of([pipe('L1', 'N1', 'N2', [0, 0], [2, 0]), pipe('L2', 'N2', 'N3', [2, 0], [2, 2])]),
    });
    const editor = editorOf(plan);
    editor.select([
      { table: 'laterals', id: 'L1' },
      { table: 'laterals', id: 'L2' },
    ]);
    editor.copySelection();
    editor.paste([10, 10]);
    const [, , one, two] = [...now(editor).laterals];
    expect(one!.to).toBe(two!.from);
    expect(['N1', 'N2', 'N3']).not.toContain(one!.to);
  });
  test('nothing chosen, nothing copied; a view that only looks takes nothing', () => {
    const editor = editorOf(site);
    expect(editor.copySelection()).toBe(false);
    editor.paste();
    expect(editor.store.getState().saying?.text).toContain('Nothing is copied yet');
    editor.select([{ table: 'plants', id: 'P1' }]);
    editor.copySelection();
    editor.show('prove');
    editor.paste([5, 5]);
    expect(now(editor)).toBe(site);
    expect(editor.store.getState().saying?.text).toContain('only looks');
  });
});

describe('choosing more', () => {
  test('all of one kind, whatever the letters of the name', () => {
    expect(allAlike(site, [{ table: 'plants', id: 'P1' }]).map(({ id }) => id)).toEqual(['P1', 'P2']);
    expect(allAlike(site, [{ table: 'areas', id: 'A2' }]).map(({ id }) => id)).toEqual(['A1', 'A2']);
    expect(allAlike(site, [{ table: 'plants', id: 'gone' }])).toEqual([]);
  });
  test('all in the bed of what is chosen', () => {
    const holder = bedOf(site, [{ table: 'plants', id: 'P2' }])!;
    expect(holder.id).toBe('A1');
    expect(allInBed(site, holder).map(({ id }) => id)).toEqual(['P1', 'P2', 'R1', 'F1', 'E1', 'E2']);
    expect(bedOf(site, [])).toBeNull();
  });
});
