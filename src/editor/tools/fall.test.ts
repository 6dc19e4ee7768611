import { describe, expect, test } from 'vitest';
import type { Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import { groundOf } from '../../derive/ground/index.ts';
import { emptyPlan } from '../../plan/empty.ts';
import { createEditor, type Editor } from '../store.ts';

/** An editor that sees 10 x 7.5 m at 80 px a metre: 9 px of reach are 0.11 m. */
function editorAt(plan = emptyPlan()): Editor {
  const editor = createEditor(plan);
  editor.setCamera({ center: [5, 5], pixelsPerMetre: 80, widthPx: 800, heightPx: 600 });
  return editor;
}
const plan = (editor: Editor) => editor.store.getState().history.plan;
const press = (editor: Editor, at: Point) => {
  editor.input({ kind: 'move', at });
  editor.input({ kind: 'down', at, add: false });
  editor.input({ kind: 'up', at });
};
const drag = (editor: Editor, from: Point, to: Point) => {
  editor.input({ kind: 'down', at: from, add: false });
  editor.input({ kind: 'move', at: to });
  editor.input({ kind: 'up', at: to });
};
const withLevel = () => ({ ...emptyPlan(), levels: Table.of([{ id: 'Z1', at: [2, 2] as Point, zM: 5 }]) });

describe('drawing a fall', () => {
  test('two presses make one with the chosen figure, and choose it', () => {
    const editor = editorAt();
    editor.chooseTool('fall', { fall: { kind: 'slope', percent: 6 } });
    press(editor, [1, 1]);
    expect(plan(editor).falls.size).toBe(0);
    press(editor, [5, 3.3]);
    const [fall] = plan(editor).falls.toArray();
    expect(fall).toMatchObject({ from: [1, 1], to: [5, 3.3], by: { kind: 'slope', percent: 6 } });
    const { selection, saying } = editor.store.getState();
    expect(selection).toEqual([{ table: 'falls', id: fall!.id }]);
    expect(saying?.text).toMatch(/drop.*percent.*panel/);
  });
  test('catches on levels and on ends of other falls', () => {
    const editor = editorAt(withLevel());
    editor.chooseTool('fall', { fall: { kind: 'drop', dropM: 0.5 } });
    press(editor, [2.06, 2.05]);
    press(editor, [6, 4.5]);
    press(editor, [6.05, 4.45]);
    press(editor, [8, 6.2]);
    expect(
      plan(editor)
        .falls.toArray()
        .map(({ from, to }) => [from, to]),
    ).toEqual([
      [
        [2, 2],
        [6, 4.5],
      ],
      [
        [6, 4.5],
        [8, 6.2],
      ],
    ]);
    expect(groundOf(plan(editor)).heightAt([8, 6.2]).zM).toBeCloseTo(4, 9);
  });
  test('until a figure is typed the ground stays as it is', () => {
    const editor = editorAt({
      ...emptyPlan(),
      levels: Table.of([
        { id: 'Z1', at: [0, 0] as Point, zM: 0 },
        { id: 'Z2', at: [8, 0] as Point, zM: 0.8 },
        { id: 'Z3', at: [0, 8] as Point, zM: 0.4 },
      ]),
    });
    editor.chooseTool('fall');
    press(editor, [1.5, 3]);
    press(editor, [5.5, 3]);
    expect(plan(editor).falls.toArray()[0]!.by).toEqual({ kind: 'drop', dropM: -0.4 });
    expect(editor.store.getState().saying?.text).toMatch(/as the ground is known now/);
  });
  test('a typed length and direction, and taking the first press back', () => {
    const editor = editorAt();
    editor.chooseTool('fall');
    press(editor, [1, 1]);
    editor.input({ kind: 'back' });
    press(editor, [3, 3]);
    editor.input({ kind: 'typed', lengthM: 4, directionDeg: 90 });
    const [fall] = plan(editor).falls.toArray();
    expect(fall!.to).toEqual([expect.closeTo(3, 9), expect.closeTo(7, 9)]);
  });
});

describe('a fall that is there', () => {
  function drawn(): Editor {
    const editor = editorAt(withLevel());
    editor.chooseTool('fall', { fall: { kind: 'drop', dropM: 0.5 } });
    press(editor, [2, 2]);
    press(editor, [6, 4.5]);
    editor.chooseTool('select');
    return editor;
  }
  test('its ends are dragged one by one, and catch on levels; it takes no corner', () => {
    const editor = drawn();
    drag(editor, [6, 4.5], [7.2, 5.1]);
    expect(plan(editor).falls.toArray()[0]).toMatchObject({ from: [2, 2], to: [7.2, 5.1] });
    drag(editor, [2, 2], [3, 3.4]);
    drag(editor, [3, 3.4], [2.05, 2.05]);
    expect(plan(editor).falls.toArray()[0]!.from).toEqual([2, 2]);
    const before = plan(editor);
    editor.input({ kind: 'double', at: [4, 3.3] });
    expect(plan(editor)).toBe(before);
  });
  test('is picked on its line, moved whole and deleted', () => {
    const editor = drawn();
    editor.select([]);
    press(editor, [4, 3.25]);
    expect(editor.store.getState().selection).toEqual([{ table: 'falls', id: 'S1' }]);
    editor.nudgeSelection(0, 1);
    expect(plan(editor).falls.get('S1')).toMatchObject({ from: [2, 3], to: [6, 5.5] });
    editor.removeSelection();
    expect(plan(editor).falls.size).toBe(0);
  });
  test('goes along with the level that it starts on', () => {
    const editor = drawn();
    editor.select([{ table: 'levels', id: 'Z1' }]);
    editor.nudgeSelection(-1, 0.5);
    expect(plan(editor).falls.get('S1')).toMatchObject({ from: [1, 2.5], to: [6, 4.5] });
    editor.select([
      { table: 'levels', id: 'Z1' },
      { table: 'falls', id: 'S1' },
    ]);
    editor.nudgeSelection(1, 0);
    expect(plan(editor).falls.get('S1')).toMatchObject({ from: [2, 2.5], to: [7, 4.5] });
  });
});

describe('a cross-section', () => {
  test('two presses show it; it is neither plan nor history; another plan ends it', () => {
    const editor = editorAt(withLevel());
    editor.chooseTool('section');
    const before = editor.store.getState().history;
    press(editor, [1, 1]);
    press(editor, [7, 3.3]);
    expect(editor.store.getState().section).toEqual([
      [1, 1],
      [7, 3.3],
    ]);
    expect(editor.store.getState().history).toBe(before);
    expect(editor.store.getState().tool).toBe('section');
    press(editor, [2.05, 2.05]);
    expect(editor.store.getState().section).toHaveLength(2);
    press(editor, [8, 8.2]);
    expect(editor.store.getState().section?.[0]).toEqual([2, 2]);
    editor.open(emptyPlan());
    expect(editor.store.getState().section).toBeNull();
  });
});
