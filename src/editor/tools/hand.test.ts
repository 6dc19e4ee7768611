import { describe, expect, test } from 'vitest';
import type { Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import { emptyPlan } from '../../plan/empty.ts';
import type { Area, Level, Plan, Plant } from '../../plan/records.ts';
import { createEditor, VIEW_TOOLS, VIEWS, type Editor } from '../store.ts';
import { plantChoice } from '../choices.ts';
import { readTape } from './tape.ts';

const box = (x: number, y: number, wide: number, high: number): Point[] => [
  [x, y],
  [x + wide, y],
  [x + wide, y + high],
  [x, y + high],
];
const bed = (id: string, outline: Point[], use: Area['use'] = 'bed'): Area => ({
  id,
  use,
  name: id,
  outline,
  holes: [],
});
const shrub = (id: string, at: Point, name = ''): Plant => ({ ...plantChoice('shrub', name), id, at });
const level = (id: string, at: Point, zM: number): Level => ({ id, at, zM });

/** 9 px of reach are 0.11 m. */
function editorOf(plan: Partial<Plan> = {}): Editor {
  const editor = createEditor({ ...emptyPlan(), ...plan });
  editor.setCamera({ center: [5, 5], pixelsPerMetre: 80, widthPx: 800, heightPx: 600 });
  editor.show('layout');
  return editor;
}
const move = (editor: Editor, at: Point) => editor.input({ kind: 'move', at });
const press = (editor: Editor, at: Point, add = false) => {
  move(editor, at);
  editor.input({ kind: 'down', at, add });
  editor.input({ kind: 'up', at });
};
const drag = (editor: Editor, path: readonly Point[], add = false) => {
  move(editor, path[0]!);
  editor.input({ kind: 'down', at: path[0]!, add });
  for (const at of path.slice(1)) move(editor, at);
  editor.input({ kind: 'up', at: path.at(-1)! });
};
const plan = (editor: Editor) => editor.store.getState().history.plan;
const state = (editor: Editor) => editor.store.getState();
const chosen = (editor: Editor) => state(editor).selection.map(({ id }) => id);

describe('lasso', () => {
  const plants = Table.of([shrub('P1', [1, 1]), shrub('P2', [2, 1]), shrub('P3', [4, 4])]);
  const round: Point[] = [
    [0.5, 0.5],
    [2.5, 0.5],
    [2.5, 1.5],
    [0.5, 1.5],
  ];
  test('chooses what lies wholly inside; a run that leaves the ring is not', () => {
    const run = {
      id: 'R1',
      name: '',
      tubing: 'blank-half-600',
      inline: null,
      path: [
        [1, 0.8],
        [2, 0.8],
      ] as Point[],
    };
    const out = {
      ...run,
      id: 'R2',
      path: [
        [1, 0.8],
        [1.5, 3],
        [2, 0.8],
      ] as Point[],
    };
    const editor = editorOf({ plants, runs: Table.of([run, out]) });
    editor.chooseTool('lasso');
    drag(editor, round);
    expect(chosen(editor)).toEqual(['P1', 'P2', 'R1']);
  });
  test('both ends inside a bent ring, with the middle outside, is not inside', () => {
    const run = {
      id: 'R1',
      name: '',
      tubing: 'blank-half-600',
      inline: null,
      path: [
        [1, 3],
        [5, 3],
      ] as Point[],
    };
    const editor = editorOf({ runs: Table.of([run]) });
    editor.chooseTool('lasso');
    drag(editor, [
      [0, 0],
      [6, 0],
      [6, 4],
      [4, 4],
      [4, 1],
      [2, 1],
      [2, 4],
      [0, 4],
    ]);
    expect(chosen(editor)).toEqual([]);
    expect(state(editor).saying?.text).toContain('wholly inside');
  });
  test('Shift adds, and gives up what is chosen already; the ticks do the same', () => {
    const editor = editorOf({ plants });
    editor.chooseTool('lasso');
    drag(editor, round);
    press(editor, [4, 4], true);
    expect(chosen(editor)).toEqual(['P1', 'P2', 'P3']);
    drag(editor, round, true);
    expect(chosen(editor)).toEqual(['P3']);
    editor.setChoices({ lasso: { form: 'box', does: 'add' } });
    drag(editor, [
      [0.5, 0.5],
      [2.5, 1.5],
    ]);
    expect(chosen(editor)).toEqual(['P3', 'P1', 'P2']);
    editor.setChoices({ lasso: { form: 'box', does: 'take' } });
    drag(editor, [
      [1.5, 0.5],
      [2.5, 1.5],
    ]);
    expect(chosen(editor)).toEqual(['P3', 'P1']);
  });
  test('leaves locked layers alone, and Delete takes the rest', () => {
    const editor = editorOf({ plants, areas: Table.of([bed('A1', box(0.6, 0.6, 1.6, 0.6))]) });
    editor.chooseTool('lasso');
    drag(editor, round);
    expect(chosen(editor)).toEqual(['P1', 'P2', 'A1']);
    editor.input({ kind: 'back' });
    expect(plan(editor).plants.size).toBe(1);
    editor.undo();
    expect(plan(editor).plants.size).toBe(3);
    editor.input({ kind: 'escape' });
    editor.input({ kind: 'escape' });
    expect(state(editor).tool).toBe('select');
  });
  test('in a view that only looks nothing is deleted', () => {
    const editor = editorOf({ plants });
    editor.chooseTool('lasso');
    drag(editor, round);
    editor.store.setState({ view: 'prove' });
    editor.input({ kind: 'back' });
    expect(plan(editor).plants.size).toBe(3);
  });
});

describe('plants many at once', () => {
  test('a row is counted while it is drawn and set with Enter as one step', () => {
    const editor = editorOf();
    editor.chooseTool('row', { stemSpacingM: 0.5 });
    press(editor, [1, 1]);
    move(editor, [4, 1]);
    expect(state(editor).draft.word?.text).toBe('7 plants');
    expect(state(editor).draft.stems?.points).toHaveLength(7);
    editor.input({ kind: 'typed', lengthM: 2, directionDeg: 0 });
    editor.input({ kind: 'enter' });
    expect([...plan(editor).plants].map(({ at }) => at[0])).toEqual([1, 1.5, 2, 2.5, 3]);
    expect(chosen(editor)).toHaveLength(5);
    editor.undo();
    expect(plan(editor).plants.size).toBe(0);
  });
  test('without a typed spacing canopies touch', () => {
    const editor = editorOf();
    editor.chooseTool('row', { plant: { ...plantChoice('shrub'), canopyMatureM: 1.5 } });
    press(editor, [0, 1]);
    press(editor, [4.6, 1]);
    editor.input({ kind: 'enter' });
    expect([...plan(editor).plants].map(({ at }) => at[0])).toEqual([0, 1.5, 3, 4.5]);
  });
  test('a press fills the bed under it, a drag a box', () => {
    const editor = editorOf({
      areas: Table.of([bed('A1', box(1, 1, 4, 4)), bed('W', box(2, 1, 1, 4), 'paving')]),
    });
    editor.chooseTool('grid', { stemSpacingM: 0.5 });
    move(editor, [4, 3]);
    const shown = state(editor).draft.stems?.points.length ?? 0;
    expect(shown).toBeGreaterThan(10);
    press(editor, [4, 3]);
    expect(plan(editor).plants.size).toBe(shown);
    expect([...plan(editor).plants].every(({ at: [x] }) => x <= 2 || x >= 3)).toBe(true);
    press(editor, [4, 3]);
    expect(plan(editor).plants.size).toBe(shown);
    expect(state(editor).saying?.text).toContain('No plant has room');
    editor.undo();
    press(editor, [8, 8]);
    expect(state(editor).saying?.text).toContain('Press inside a bed');
    drag(editor, [
      [3.5, 2],
      [4, 3],
      [4.5, 4],
    ]);
    const inBox = [...plan(editor).plants];
    expect(inBox.length).toBeGreaterThan(4);
    expect(inBox.every(({ at: [x, y] }) => x >= 3.5 && x <= 4.5 && y >= 2 && y <= 4)).toBe(true);
  });
  test('the brush plants in beds only, keeps the spacing, and takes away again', () => {
    const editor = editorOf({ areas: Table.of([bed('A1', box(1, 1, 4, 4))]) });
    editor.chooseTool('brush', { stemSpacingM: 0.4 });
    const stroke: Point[] = [
      [2, 3],
      [4, 3],
      [7, 3],
    ];
    drag(editor, stroke);
    const count = plan(editor).plants.size;
    expect(count).toBeGreaterThan(20);
    expect([...plan(editor).plants].every(({ at: [x] }) => x <= 5)).toBe(true);
    drag(editor, stroke);
    expect(plan(editor).plants.size).toBe(count);
    const { brush } = state(editor).choices;
    editor.setChoices({ brush: { ...brush, erase: true } });
    drag(editor, stroke);
    expect(plan(editor).plants.size).toBe(0);
    editor.undo();
    expect(plan(editor).plants.size).toBe(count);
    editor.undo();
    expect(plan(editor).plants.size).toBe(0);
  });
  test('a second finger drops the stroke', () => {
    const editor = editorOf({ areas: Table.of([bed('A1', box(1, 1, 4, 4))]) });
    editor.chooseTool('brush');
    editor.input({ kind: 'down', at: [3, 3], add: false });
    editor.input({ kind: 'escape' });
    editor.input({ kind: 'up', at: [3, 3] });
    expect(plan(editor).plants.size).toBe(0);
    expect(state(editor).tool).toBe('brush');
  });
  test('3,000 plants of the large slope in one stroke of rows', () => {
    const FOOT = 0.3048;
    const editor = editorOf({ areas: Table.of([bed('A1', box(0, 0, 420 * FOOT, 59 * FOOT))]) });
    const { row } = state(editor).choices;
    editor.chooseTool('row', {
      stemSpacingM: 3.34 * FOOT,
      row: { ...row, rows: 24, rowSpacingM: 2.5 * FOOT },
    });
    press(editor, [1.5 * FOOT, 0.716 * FOOT]);
    press(editor, [418.5 * FOOT, 0.716 * FOOT]);
    editor.input({ kind: 'enter' });
    expect(plan(editor).plants.size).toBe(3000);
  });
});

describe('tape', () => {
  const levels = Table.of([
    level('Z1', [0, 0], 0),
    level('Z2', [10, 0], 5),
    level('Z3', [0, 10], 0),
    level('Z4', [10, 10], 5),
  ]);
  test('reads plan, ground, height and slope, and the area of a ring', () => {
    // A slope of 5 m in 10 m: 50 %, and sqrt(125) = 11.18 m on the ground.
    const reading = readTape(
      { ...emptyPlan(), levels },
      [
        [0, 2],
        [10, 2],
      ],
      false,
    );
    expect(reading.planM).toBeCloseTo(10, 9);
    expect(reading.groundM).toBeCloseTo(Math.sqrt(125), 6);
    expect(reading.riseM).toBeCloseTo(5, 9);
    expect(reading.legs[0]!.slopePercent).toBeCloseTo(50, 6);
    const ring = readTape({ ...emptyPlan(), levels }, box(0, 0, 3, 4), true);
    expect(ring.areaM2).toBeCloseTo(12, 9);
    expect(ring.planM).toBeCloseTo(14, 9);
    const crossed = readTape(
      emptyPlan(),
      [
        [0, 0],
        [2, 2],
        [2, 0],
        [0, 2],
      ],
      true,
    );
    expect(crossed.areaM2).toBeNull();
    expect(crossed.groundM).toBeNull();
  });
  test('lies until Escape, changes nothing, and closes on its first place', () => {
    const editor = editorOf({ levels });
    const before = plan(editor);
    editor.show('prove');
    editor.chooseTool('tape');
    for (const at of box(1, 1, 3, 4)) press(editor, at);
    press(editor, [1, 1]);
    expect(state(editor).toolState).toMatchObject({ ended: 'ring' });
    expect(state(editor).draft.lines[0]).toMatchObject({ closed: true });
    move(editor, [6, 6]);
    expect(state(editor).draft.lines[0]!.points).toHaveLength(4);
    editor.input({ kind: 'escape' });
    expect(state(editor).draft.lines).toEqual([]);
    expect(state(editor).tool).toBe('tape');
    editor.input({ kind: 'escape' });
    expect(state(editor).tool).toBe('select');
    expect(plan(editor)).toBe(before);
  });
  test('is there in every view', () => {
    for (const view of VIEWS) expect(VIEW_TOOLS[view]).toContain('tape');
  });
});

describe('runs', () => {
  test('a bend too tight and a crossing are marked while drawing', () => {
    const editor = editorOf();
    editor.chooseTool('inline');
    for (const at of [
      [1, 1],
      [4, 1],
    ] as const)
      press(editor, at);
    editor.input({ kind: 'typed', lengthM: 0.2, directionDeg: 90 });
    editor.input({ kind: 'typed', lengthM: 3, directionDeg: 180 });
    expect(state(editor).draft.signs?.map(({ kind }) => kind)).toEqual(['bend', 'bend']);
    editor.input({ kind: 'enter' });
    expect(state(editor).saying?.text).toContain('elbow');
    editor.chooseTool('blank');
    press(editor, [2, 0.3]);
    move(editor, [2, 3]);
    expect(state(editor).draft.signs?.map(({ kind }) => kind)).toEqual(['cross', 'cross']);
    expect(state(editor).draft.word?.text).toContain('crosses');
  });
  test('follow the contour of a slope by pointer and by typed length', () => {
    // The ground rises along (1, 1): its contours run at 135 degrees.
    const levels = Table.of([
      level('Z1', [0, 0], 0),
      level('Z2', [8, 0], 4),
      level('Z3', [0, 8], 4),
      level('Z4', [8, 8], 8),
    ]);
    const editor = editorOf({ levels });
    editor.chooseTool('blank', { followContour: true });
    press(editor, [4, 2]);
    move(editor, [3.05, 3.02]);
    expect(state(editor).draft.snap).toMatchObject({ kind: 'contour', reason: 'contour' });
    const [x, y] = state(editor).draft.snap!.at;
    expect(x + y).toBeCloseTo(6, 6);
    editor.input({ kind: 'typed', lengthM: Math.SQRT2, directionDeg: null });
    editor.input({ kind: 'enter' });
    const path = [...plan(editor).runs][0]!.path;
    expect(path.at(-1)![0]).toBeCloseTo(3, 6);
    expect(path.at(-1)![1]).toBeCloseTo(3, 6);
  });
  test('a bent contour is followed round its corner, and taken back in one go', () => {
    // A ridge along x = 4 with unlike slopes at its sides bends every contour there.
    const levels = Table.of([
      level('Z1', [0, 0], 0),
      level('Z2', [4, 0], 2),
      level('Z3', [8, 0], 0),
      level('Z4', [0, 8], 4),
      level('Z5', [4, 8], 6),
      level('Z6', [8, 8], 4),
    ]);
    const editor = editorOf({ levels });
    editor.chooseTool('blank', { followContour: true });
    press(editor, [2, 4]);
    // On the other side the same height, 3 m, lies at (6, 4); the line bends on the ridge at (4, 2).
    move(editor, [6, 4.02]);
    press(editor, [6, 4.02]);
    const points = (state(editor).toolState as { points: Point[] }).points;
    expect(points.length).toBeGreaterThanOrEqual(3);
    expect(points.some(([x, y]) => Math.abs(x - 4) < 1e-6 && Math.abs(y - 2) < 1e-6)).toBe(true);
    editor.input({ kind: 'back' });
    expect((state(editor).toolState as { points: Point[] }).points).toEqual([[2, 4]]);
  });
  test('on level ground the tick changes nothing', () => {
    const editor = editorOf();
    editor.chooseTool('blank', { followContour: true });
    press(editor, [2, 4]);
    move(editor, [6.05, 5.5]);
    expect(state(editor).draft.snap?.kind).toBe('free');
  });
});
