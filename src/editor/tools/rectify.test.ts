import { describe, expect, test } from 'vitest';
import type { Point } from '../../base/point.ts';
import { photoToPlan } from '../../derive/photo-fit.ts';
import { setPhoto } from '../../plan/edits/index.ts';
import type { SitePhoto } from '../../plan/records.ts';
import { createEditor, type Editor } from '../store.ts';
import type { Marking } from './rectify.ts';

/** 1000 by 800 pixels on 10 m by 8 m, its upper left corner at (0, 8); a screen pixel is a pixel of it. */
const PHOTO: SitePhoto = {
  pictureId: 'p',
  name: 'yard.jpg',
  widthPx: 1000,
  heightPx: 800,
  corner: [0, 8],
  turnDeg: 0,
  assumedWidthM: 10,
  measures: [],
  strength: 1,
  rectification: null,
};
const MARKS: readonly Point[] = [
  [200, 600],
  [800, 610],
  [700, 200],
  [300, 190],
];

function started(photo: SitePhoto | null = PHOTO): Editor {
  const editor = createEditor();
  if (photo) editor.commit(setPhoto('Place photo', photo));
  editor.setCamera({ center: [5, 4], pixelsPerMetre: 100, widthPx: 1200, heightPx: 900 });
  editor.chooseTool('rectify');
  return editor;
}
const at = (px: Point) => photoToPlan(PHOTO, px);
const move = (editor: Editor, px: Point) => editor.input({ kind: 'move', at: at(px) });
const down = (editor: Editor, px: Point) => editor.input({ kind: 'down', at: at(px), add: false });
const up = (editor: Editor, px: Point) => editor.input({ kind: 'up', at: at(px) });
function press(editor: Editor, px: Point): void {
  move(editor, px);
  down(editor, px);
  up(editor, px);
}
const marking = (editor: Editor) => editor.store.getState().toolState as Marking;
const rounded = (editor: Editor) => marking(editor).marks.map((mark) => mark.map(Math.round));
const saying = (editor: Editor) => editor.store.getState().saying?.text;
const marked = () => {
  const editor = started();
  MARKS.forEach((px) => press(editor, px));
  return editor;
};

describe('flatten photo', () => {
  test('four presses set four marks, in pixels of the photo; a fifth sets none', () => {
    const editor = marked();
    expect(rounded(editor)).toEqual(MARKS);
    const { draft, history } = editor.store.getState();
    expect(draft.dots).toHaveLength(4);
    expect(draft.lines[0]).toMatchObject({ closed: true });
    expect(draft.edit).toBeNull();
    press(editor, [500, 400]);
    expect(rounded(editor)).toEqual(MARKS);
    expect(saying(editor)).toMatch(/All four marks/);
    expect(editor.store.getState().history).toBe(history);
  });
  test('between presses the line follows the pointer, and ends where the photo ends', () => {
    const editor = started();
    press(editor, MARKS[0]!);
    move(editor, [400, 400]);
    expect(editor.store.getState().draft.lines[0]?.points).toHaveLength(2);
    move(editor, [2000, 400]);
    expect(marking(editor).pointer).toBeNull();
    expect(editor.store.getState().draft.lines[0]?.points).toHaveLength(1);
  });
  test('a press beside the photo sets no mark, and says so', () => {
    const editor = started();
    press(editor, [-50, 300]);
    press(editor, [500, 801]);
    expect(marking(editor).marks).toHaveLength(0);
    expect(saying(editor)).toMatch(/not on the photo/);
  });
  test('a mark is dragged, not beyond the photo, before and after all are set', () => {
    const editor = started();
    press(editor, MARKS[0]!);
    move(editor, [203, 603]);
    down(editor, [203, 603]);
    move(editor, [250, 640]);
    up(editor, [250, 640]);
    expect(rounded(editor)).toEqual([[250, 640]]);
    move(editor, [500, 500]);
    expect(rounded(editor)).toEqual([[250, 640]]);
    MARKS.slice(1).forEach((px) => press(editor, px));
    down(editor, MARKS[2]!);
    move(editor, [1500, -20]);
    up(editor, [1500, -20]);
    expect(rounded(editor)[2]).toEqual([1000, 0]);
  });
  test('a mark pressed goes to the next place pressed, once', () => {
    const editor = marked();
    press(editor, MARKS[1]!);
    press(editor, [850, 650]);
    expect(rounded(editor)[1]).toEqual([850, 650]);
    press(editor, [500, 400]);
    expect(rounded(editor)[1]).toEqual([850, 650]);
  });
  test('Backspace and undo take back the last mark, Escape all of them and then the tool', () => {
    const editor = marked();
    editor.input({ kind: 'back' });
    expect(marking(editor).marks).toHaveLength(3);
    editor.undo();
    expect(marking(editor).marks).toHaveLength(2);
    expect(editor.store.getState().history.plan.photo).not.toBeNull();
    editor.input({ kind: 'escape' });
    expect(marking(editor).marks).toHaveLength(0);
    expect(editor.store.getState().tool).toBe('rectify');
    editor.input({ kind: 'escape' });
    expect(editor.store.getState().tool).toBe('select');
  });
  test('Enter and typing say what is wanted next', () => {
    const editor = started();
    press(editor, MARKS[0]!);
    editor.input({ kind: 'enter' });
    expect(saying(editor)).toBe('Press at mark 2 of 4.');
    const full = marked();
    full.input({ kind: 'enter' });
    expect(saying(full)).toMatch(/Type what was measured/);
    expect(marking(full).marks).toHaveLength(4);
  });
  test('without a photo it says so and is put away', () => {
    const editor = started(null);
    editor.input({ kind: 'move', at: [1, 1] });
    expect(editor.store.getState().tool).toBe('select');
  });
  test('marks of one picture are none of another', () => {
    const editor = marked();
    editor.commit(setPhoto('Place photo', { ...PHOTO, pictureId: 'other' }));
    move(editor, [10, 10]);
    expect(marking(editor)).toMatchObject({ pictureId: 'other', marks: [] });
  });
});
