import { describe, expect, test } from 'vitest';
import type { Point } from '../base/point.ts';
import { add } from '../plan/edits/index.ts';
import { createEditor, shownPlan, type Editor } from './store.ts';

/** An editor that sees 10 x 7.5 m at 80 px a metre: 9 px of reach are 0.11 m. */
function editorAt(): Editor {
  const editor = createEditor();
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
function square(editor: Editor): void {
  editor.chooseTool('area', { areaUse: 'bed' });
  for (const at of [
    [1, 1],
    [4, 1],
    [4, 4],
    [1, 4],
    [1, 1],
  ] as const)
    press(editor, at);
  editor.chooseTool('select');
}

describe('tracing', () => {
  test('a bed closes on its first corner and is chosen', () => {
    const editor = editorAt();
    square(editor);
    expect([...plan(editor).areas][0]?.outline).toEqual([
      [1, 1],
      [4, 1],
      [4, 4],
      [1, 4],
    ]);
    expect(editor.store.getState().selection).toEqual([{ table: 'areas', id: 'A1' }]);
  });
  test('typed lengths and directions set corners exactly', () => {
    const editor = editorAt();
    editor.chooseTool('area', { areaUse: 'bed' });
    press(editor, [1, 1]);
    editor.input({ kind: 'typed', lengthM: 3.2, directionDeg: 0 });
    editor.input({ kind: 'move', at: [4.21, 2] });
    editor.input({ kind: 'typed', lengthM: 1.5, directionDeg: null });
    editor.input({ kind: 'enter' });
    const [, second, third] = [...plan(editor).areas][0]!.outline;
    expect(second![0]).toBeCloseTo(4.2, 12);
    expect(third![0]).toBeCloseTo(4.2, 12);
    expect(third![1]).toBeCloseTo(2.5, 12);
  });
  test('two corners are no area, and the person is told', () => {
    const editor = editorAt();
    editor.chooseTool('area', { areaUse: 'bed' });
    press(editor, [1, 1]);
    press(editor, [4, 1]);
    editor.input({ kind: 'enter' });
    expect(plan(editor).areas.size).toBe(0);
    expect(editor.store.getState().saying?.text).toContain('three');
  });
  test('opening another plan is counted, changing one is not', () => {
    const editor = editorAt();
    square(editor);
    expect(editor.store.getState().openings).toBe(0);
    editor.open(plan(createEditor()));
    expect(editor.store.getState().openings).toBe(1);
    editor.start(plan(createEditor()));
    expect(editor.store.getState().openings).toBe(2);
  });

  test('the draft is neither in the plan nor in history', () => {
    const editor = editorAt();
    editor.chooseTool('plant');
    editor.input({ kind: 'move', at: [2, 2] });
    expect(shownPlan(editor.store.getState()).plants.size).toBe(1);
    expect(plan(editor).plants.size).toBe(0);
    editor.input({ kind: 'escape' });
    expect(shownPlan(editor.store.getState()).plants.size).toBe(0);
  });
});

describe('choosing and moving', () => {
  test('a chosen bed’s corner is dragged; undo and redo', () => {
    const editor = editorAt();
    square(editor);
    drag(editor, [4, 4], [4.6, 5.2]);
    expect([...plan(editor).areas][0]?.outline[2]).toEqual([4.6, 5.2]);
    editor.undo();
    expect([...plan(editor).areas][0]?.outline[2]).toEqual([4, 4]);
    editor.redo();
    expect([...plan(editor).areas][0]?.outline[2]).toEqual([4.6, 5.2]);
  });
  test('pulling the middle of an edge inserts a corner; Delete takes the pressed corner out', () => {
    const editor = editorAt();
    square(editor);
    drag(editor, [2.5, 4], [2.5, 5.5]);
    expect([...plan(editor).areas][0]?.outline).toHaveLength(5);
    press(editor, [2.5, 5.5]);
    editor.input({ kind: 'back' });
    expect([...plan(editor).areas][0]?.outline).toHaveLength(4);
  });
  test('a drag inside a bed that is not chosen makes a box, not a move', () => {
    const editor = editorAt();
    square(editor);
    editor.chooseTool('plant');
    press(editor, [2.5, 2.5]);
    editor.chooseTool('select');
    editor.select([]);
    drag(editor, [1.5, 1.5], [3.7, 3.7]);
    expect(editor.store.getState().selection).toEqual([{ table: 'plants', id: 'P1' }]);
    expect([...plan(editor).areas][0]?.outline[0]).toEqual([1, 1]);
  });
  test('Escape drops a drag', () => {
    const editor = editorAt();
    square(editor);
    editor.input({ kind: 'down', at: [4, 4], add: false });
    editor.input({ kind: 'move', at: [5, 5] });
    editor.input({ kind: 'escape' });
    editor.input({ kind: 'up', at: [5, 5] });
    expect([...plan(editor).areas][0]?.outline[2]).toEqual([4, 4]);
    expect(editor.store.getState().history.past).toHaveLength(1);
  });
  test('undo takes back the last corner of a chain, and a drag, before what was kept', () => {
    const editor = editorAt();
    square(editor);
    editor.chooseTool('blank');
    press(editor, [6, 1]);
    press(editor, [8, 1]);
    editor.undo();
    expect(editor.store.getState().draft.dots).toEqual([[6, 1]]);
    editor.undo();
    expect(editor.store.getState().draft.dots).toEqual([]);
    expect(plan(editor).areas.size).toBe(1);
    editor.chooseTool('select');
    editor.input({ kind: 'down', at: [4, 4], add: false });
    editor.input({ kind: 'move', at: [5, 5] });
    editor.undo();
    editor.input({ kind: 'up', at: [5, 5] });
    expect([...plan(editor).areas][0]?.outline[2]).toEqual([4, 4]);
    editor.undo();
    expect(plan(editor).areas.size).toBe(0);
  });
  test('where beds overlap the chosen one is dragged', () => {
    const editor = editorAt();
    square(editor);
    editor.duplicateSelection(0.5);
    drag(editor, [2.2, 2.2], [5.2, 2.2]);
    const [first, copy] = [...plan(editor).areas];
    expect(first?.outline[0]).toEqual([1, 1]);
    expect(copy?.outline[0]).toEqual([4.5, 0.5]);
  });
  test('undo drops chosen records that are gone', () => {
    const editor = editorAt();
    square(editor);
    editor.undo();
    expect(editor.store.getState().selection).toEqual([]);
  });
  test('a thousand edits are undone one by one', () => {
    const editor = editorAt();
    for (let i = 0; i < 1000; i++) {
      editor.commit({ label: '', apply: (p) => ({ ...p, site: { ...p.site, name: String(i) } }) });
    }
    for (let i = 0; i < 1000; i++) editor.undo();
    expect(plan(editor).site.name).toBe('');
    editor.undo();
    expect(plan(editor).site.name).toBe('');
  });
});

describe('point emitters', () => {
  function withRunAndPlant(): Editor {
    const editor = editorAt();
    editor.chooseTool('blank');
    press(editor, [1, 1]);
    press(editor, [9, 1]);
    editor.input({ kind: 'enter' });
    editor.chooseTool('plant');
    press(editor, [4, 3]);
    editor.chooseTool('emitter');
    return editor;
  }
  test('are pulled into the root zone and name plant and run', () => {
    const editor = withRunAndPlant();
    press(editor, [4, 3.65]);
    const [emitter] = [...plan(editor).emitters];
    expect(emitter).toMatchObject({ runId: 'R1', plantId: 'P1' });
    expect(emitter!.at[1]).toBeCloseTo(3.6096, 9);
  });
  test('keep clear of the stem', () => {
    const editor = withRunAndPlant();
    press(editor, [4, 3.02]);
    expect([...plan(editor).emitters][0]!.at[1]).toBeCloseTo(3.1524, 9);
  });
  test('away from plants they sit on the tubing or not at all', () => {
    const editor = withRunAndPlant();
    press(editor, [7, 1.05]);
    press(editor, [7, 3]);
    expect([...plan(editor).emitters].map(({ at, plantId }) => ({ at, plantId }))).toEqual([
      { at: [7, 1], plantId: null },
    ]);
    expect(editor.store.getState().saying?.text).toContain('root zone');
  });
  test('without blank tubing the person is told what to draw first', () => {
    const editor = editorAt();
    editor.chooseTool('emitter');
    press(editor, [3, 3]);
    expect(plan(editor).emitters.size).toBe(0);
    expect(editor.store.getState().saying?.text).toContain('Draw a run of tubing first');
  });
});

describe('measuring the photo', () => {
  test('two lines set the scale, the third checks it, a fourth replaces the check', () => {
    const editor = editorAt();
    editor.commit({
      label: '',
      apply: (p) => ({
        ...p,
        photo: {
          pictureId: 'x',
          name: 'x.jpg',
          widthPx: 1000,
          heightPx: 800,
          corner: [0, 8],
          turnDeg: 0,
          assumedWidthM: 10,
          measures: [],
          strength: 1,
          rectification: null,
        },
      }),
    });
    editor.chooseTool('measure');
    for (const [from, to, lengthM] of [
      [[1, 1], [4, 1], 6],
      [[1, 1], [1, 3], 4],
      [[1, 1], [2, 2], 3],
      [[2, 2], [3, 3], 2.8],
    ] as const) {
      press(editor, from);
      press(editor, to);
      editor.input({ kind: 'typed', lengthM, directionDeg: null });
    }
    const { measures } = plan(editor).photo!;
    expect(measures.map(({ role, lengthM }) => [role, lengthM])).toEqual([
      ['fit', 6],
      ['fit', 4],
      ['check', 2.8],
    ]);
    expect(measures[0]!.a).toEqual([100, 700]);
    expect(measures[0]!.b).toEqual([400, 700]);
  });
});

describe('an edit shown without being kept', () => {
  const named = (name: string) => ({
    label: name,
    apply: (p: ReturnType<typeof plan>) => ({ ...p, site: { ...p.site, name } }),
  });
  const shownName = (editor: Editor) => shownPlan(editor.store.getState()).site.name;
  test('stays while the pointer moves and tools are used, and is never kept', () => {
    const editor = editorAt();
    square(editor);
    const before = plan(editor);
    editor.preview(named('shown'));
    const draft = editor.store.getState().draft;
    editor.show('decide');
    expect(shownName(editor)).toBe('');
    editor.preview(named('shown'));
    editor.input({ kind: 'move', at: [2, 2] });
    const { draft: resting } = editor.store.getState();
    editor.input({ kind: 'move', at: [3, 3] });
    expect(editor.store.getState().draft).toBe(resting);
    expect(draft).not.toBe(resting);
    press(editor, [2, 2]);
    editor.chooseTool('pan');
    drag(editor, [8, 7], [9, 9]);
    expect(shownName(editor)).toBe('shown');
    expect(plan(editor)).toBe(before);
  });
  test('undo takes back the last kept step, not the preview', () => {
    const editor = editorAt();
    editor.commit(named('first'));
    editor.preview(named('shown'));
    editor.undo();
    expect(plan(editor).site.name).toBe('');
    expect(shownName(editor)).toBe('shown');
    editor.preview(null);
    expect(shownName(editor)).toBe('');
  });
  test('another view and another plan end it', () => {
    const editor = editorAt();
    editor.preview(named('shown'));
    editor.show('layout');
    expect(shownName(editor)).toBe('');
    editor.preview(named('shown'));
    editor.open(plan(editorAt()));
    editor.input({ kind: 'move', at: [1, 1] });
    expect(shownName(editor)).toBe('');
  });
});

test('while sheets are made only the kept plan is shown; the preview comes back after', () => {
  const editor = createEditor();
  const edit = add('Set level', 'levels', { at: [1, 1], zM: 2 });
  editor.preview(edit);
  expect(shownPlan(editor.store.getState()).levels.size).toBe(1);
  editor.showKeptOnly(true);
  expect(shownPlan(editor.store.getState()).levels.size).toBe(0);
  editor.preview(edit);
  expect(shownPlan(editor.store.getState()).levels.size).toBe(0);
  editor.showKeptOnly(false);
  expect(shownPlan(editor.store.getState()).levels.size).toBe(1);
});
