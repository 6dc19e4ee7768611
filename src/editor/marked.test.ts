import { expect, test } from 'vitest';
import { emptyPlan } from '../plan/empty.ts';
import { changePart } from '../plan/edits/index.ts';
import { createEditor } from './store.ts';

const marked = (editor: ReturnType<typeof createEditor>) => editor.store.getState().marked;

test('places shown by a list go with the next choice, change, view or plan', () => {
  const editor = createEditor();
  const show = () => {
    editor.select([], [[1, 2]]);
    expect(marked(editor)).toEqual([[1, 2]]);
  };
  show();
  editor.select([]);
  expect(marked(editor)).toEqual([]);
  show();
  editor.commit(changePart('Name', 'site', { name: 'Yard' }));
  expect(marked(editor)).toEqual([]);
  show();
  editor.undo();
  expect(marked(editor)).toEqual([]);
  show();
  editor.show('prove');
  expect(marked(editor)).toEqual([]);
  show();
  editor.open(emptyPlan());
  expect(marked(editor)).toEqual([]);
  show();
  editor.start(emptyPlan());
  expect(marked(editor)).toEqual([]);
});

test('they stay while the pointer only moves, and go when something else is pressed', () => {
  const editor = createEditor();
  editor.select([], [[1, 2]]);
  editor.input({ kind: 'move', at: [3, 3] });
  expect(marked(editor)).toEqual([[1, 2]]);
  editor.input({ kind: 'down', at: [3, 3], add: false });
  editor.input({ kind: 'up', at: [3, 3] });
  expect(marked(editor)).toEqual([]);
});
