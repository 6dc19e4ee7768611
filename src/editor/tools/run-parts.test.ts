import { describe, expect, test } from 'vitest';
import type { Point } from '../../base/point.ts';
import { createEditor, shownPlan, type Editor } from '../store.ts';

/** An editor with two runs of tubing that meet at (4, 1); 9 px of reach are 0.11 m. */
function withRuns(): Editor {
  const editor = createEditor();
  editor.setCamera({ center: [5, 5], pixelsPerMetre: 80, widthPx: 800, heightPx: 600 });
  editor.show('layout');
  for (const path of [
    [
      [1, 1],
      [4, 1],
    ],
    [
      [4, 1],
      [4, 5],
    ],
  ] as const) {
    editor.chooseTool('blank');
    for (const at of path) press(editor, at);
    editor.input({ kind: 'enter' });
  }
  return editor;
}
const press = (editor: Editor, at: Point) => {
  editor.input({ kind: 'move', at });
  editor.input({ kind: 'down', at, add: false });
  editor.input({ kind: 'up', at });
};
const plan = (editor: Editor) => editor.store.getState().history.plan;
const saying = (editor: Editor) => editor.store.getState().saying?.text;

describe('flush ends', () => {
  test('catch on the end of a run and are chosen', () => {
    const editor = withRuns();
    editor.chooseTool('flush');
    press(editor, [4.05, 5.05]);
    expect([...plan(editor).flushEnds]).toEqual([{ id: 'F1', runId: 'R2', end: 'end' }]);
    expect(editor.store.getState().selection).toEqual([{ table: 'flushEnds', id: 'F1' }]);
  });
  test('are shown before the press, and a second press takes them back', () => {
    const editor = withRuns();
    editor.chooseTool('flush');
    editor.input({ kind: 'move', at: [1, 1.05] });
    expect(shownPlan(editor.store.getState()).flushEnds.size).toBe(1);
    expect(plan(editor).flushEnds.size).toBe(0);
    press(editor, [1, 1.05]);
    expect([...plan(editor).flushEnds]).toMatchObject([{ runId: 'R1', end: 'start' }]);
    editor.input({ kind: 'move', at: [1.01, 1.05] });
    expect(shownPlan(editor.store.getState()).flushEnds.size).toBe(1);
    press(editor, [1.01, 1.05]);
    expect(plan(editor).flushEnds.size).toBe(0);
    editor.undo();
    expect(plan(editor).flushEnds.size).toBe(1);
  });
  test('where runs meet the one that is there is meant', () => {
    const editor = withRuns();
    editor.chooseTool('flush');
    press(editor, [4, 1]);
    press(editor, [4, 1]);
    expect(plan(editor).flushEnds.size).toBe(0);
  });
  test('in the middle of a run nothing happens, and the person is told', () => {
    const editor = withRuns();
    editor.chooseTool('flush');
    press(editor, [2.5, 1]);
    expect(plan(editor).flushEnds.size).toBe(0);
    expect(saying(editor)).toContain('end of a run');
  });
  test('stay at the end when the run is dragged, and moving one alone changes nothing', () => {
    const editor = withRuns();
    editor.chooseTool('flush');
    press(editor, [4, 5]);
    const before = plan(editor);
    editor.nudgeSelection(1, 0);
    expect(plan(editor)).toBe(before);
    editor.select([{ table: 'runs', id: 'R2' }]);
    editor.nudgeSelection(1, 0);
    expect(plan(editor).runs.get('R2')?.path.at(-1)).toEqual([5, 5]);
    expect(plan(editor).flushEnds.size).toBe(1);
  });
});

describe.each([
  ['relief', 'air relief'],
  ['drain', 'drain'],
] as const)('%s', (tool, kind) => {
  test('sits on the nearest run, is shown before the press, chosen after it, and taken back', () => {
    const editor = withRuns();
    editor.chooseTool(tool);
    editor.input({ kind: 'move', at: [2, 1.05] });
    expect([...shownPlan(editor.store.getState()).lineParts]).toMatchObject([{ kind, runId: 'R1' }]);
    expect(plan(editor).lineParts.size).toBe(0);
    press(editor, [2, 1.05]);
    expect([...plan(editor).lineParts]).toEqual([{ id: 'Q1', kind, runId: 'R1', at: [2, 1] }]);
    expect(editor.store.getState().selection).toEqual([{ table: 'lineParts', id: 'Q1' }]);
    expect(editor.store.getState().history.past.at(-1)!.label).toBe(`Set ${kind}`);
    editor.undo();
    expect(plan(editor).lineParts.size).toBe(0);
  });
  test('off any run nothing happens, and the person is told', () => {
    const editor = withRuns();
    editor.chooseTool(tool);
    press(editor, [2, 3]);
    expect(plan(editor).lineParts.size).toBe(0);
    expect(saying(editor)).toContain(`${kind} sits on a run`);
  });
  test('goes with its run, and slides along it when dragged', () => {
    const editor = withRuns();
    editor.chooseTool(tool);
    press(editor, [2, 1]);
    editor.chooseTool('select');
    editor.input({ kind: 'down', at: [2, 1], add: false });
    editor.input({ kind: 'move', at: [3, 1.4] });
    editor.input({ kind: 'up', at: [3, 1.4] });
    expect([...plan(editor).lineParts][0]!.at[0]).toBeCloseTo(3, 1);
    editor.select([{ table: 'runs', id: 'R1' }]);
    editor.removeSelection();
    expect(plan(editor).lineParts.size).toBe(0);
  });
});

describe('check valves', () => {
  test('sit on the nearest run with the chosen opening pressure', () => {
    const editor = withRuns();
    editor.chooseTool('check');
    editor.setChoices({ check: { openKpa: 12 } });
    press(editor, [4.08, 3]);
    expect([...plan(editor).checkValves]).toEqual([{ id: 'K1', runId: 'R2', at: [4, 3], openKpa: 12 }]);
    expect(editor.store.getState().selection).toEqual([{ table: 'checkValves', id: 'K1' }]);
  });
  test('off any run nothing happens, and the person is told', () => {
    const editor = withRuns();
    editor.chooseTool('check');
    press(editor, [7, 3]);
    expect(plan(editor).checkValves.size).toBe(0);
    expect(saying(editor)).toContain('run of tubing');
  });
  test('slide along their run when dragged', () => {
    const editor = withRuns();
    editor.chooseTool('check');
    press(editor, [4, 3]);
    editor.chooseTool('select');
    editor.input({ kind: 'down', at: [4, 3], add: false });
    editor.input({ kind: 'move', at: [4.6, 4] });
    editor.input({ kind: 'up', at: [4.6, 4] });
    expect(plan(editor).checkValves.get('K1')?.at).toEqual([4, 4]);
    expect(plan(editor).runs.get('R2')?.path[0]).toEqual([4, 1]);
  });
});
