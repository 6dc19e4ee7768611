import { describe, expect, test } from 'vitest';
import type { Point } from '../base/point.ts';
import { add, changePart } from '../plan/edits/index.ts';
import { emptyPlan } from '../plan/empty.ts';
import { createEditor, shownPlan, type Editor } from './store.ts';

function editorAt(): Editor {
  const editor = createEditor();
  editor.setCamera({ center: [5, 5], pixelsPerMetre: 80, widthPx: 800, heightPx: 600 });
  return editor;
}
const plan = (editor: Editor) => editor.store.getState().history.plan;
const said = (editor: Editor) => editor.store.getState().saying?.text ?? null;
const square: readonly Point[] = [
  [1, 1],
  [4, 1],
  [4, 4],
  [1, 4],
];
const bed = add('Draw bed', 'areas', { use: 'bed', name: 'Bed 1', outline: square, holes: [] });
const A1 = { table: 'areas', id: 'A1' } as const;
const LOCKED = 'Beds, paving, lawns are locked: unlock them under Layers.';
const lockBeds = (editor: Editor) => editor.setLayers({ hidden: [], locked: ['areas'] });

describe('what is proposed', () => {
  const offer = { label: 'Draw it', draw: () => undefined, drop: () => undefined };
  test('stands as long as its edit is shown, and is no part of the plan', () => {
    const editor = editorAt();
    editor.preview(bed, offer);
    expect(editor.store.getState().offer).toBe(offer);
    expect(shownPlan(editor.store.getState()).areas.size).toBe(1);
    expect(plan(editor).areas.size).toBe(0);
    editor.preview(null);
    expect(editor.store.getState().offer).toBeNull();
  });
  test('nothing is offered where there is no edit, or the edit comes without an offer', () => {
    const editor = editorAt();
    editor.preview(null, offer);
    expect(editor.store.getState().offer).toBeNull();
    editor.preview(bed, offer);
    editor.preview(bed);
    expect(editor.store.getState().offer).toBeNull();
  });
  test('another view or plan ends it', () => {
    const editor = editorAt();
    editor.show('layout');
    editor.preview(bed, offer);
    editor.show('prove');
    expect(editor.store.getState().offer).toBeNull();
    editor.preview(bed, offer);
    editor.open(emptyPlan());
    expect(editor.store.getState().offer).toBeNull();
    expect(shownPlan(editor.store.getState()).areas.size).toBe(0);
  });
});

describe('locked layers', () => {
  test('are not chosen by lists either, and it is said why', () => {
    const editor = editorAt();
    editor.commit(bed);
    lockBeds(editor);
    editor.select([A1]);
    expect(editor.store.getState().selection).toEqual([]);
    expect(said(editor)).toBe(LOCKED);
  });
  test('a press of Select on a locked thing says why nothing happens, a press beside it nothing', () => {
    const editor = editorAt();
    editor.commit(bed);
    lockBeds(editor);
    editor.input({ kind: 'down', at: [8, 8], add: false });
    editor.input({ kind: 'up', at: [8, 8] });
    expect(said(editor)).toBeNull();
    editor.input({ kind: 'down', at: [2, 2], add: false });
    expect(said(editor)).toBe(LOCKED);
    expect(editor.store.getState().selection).toEqual([]);
  });
  test('keep what was chosen when they were locked meanwhile', () => {
    const editor = editorAt();
    editor.commit(bed);
    editor.select([A1]);
    // As when a lock comes in by another way than the menu.
    editor.store.setState({ layers: { hidden: [], locked: ['areas'] } });
    editor.removeSelection();
    editor.nudgeSelection(1, 0);
    editor.duplicateSelection(1);
    expect(plan(editor).areas.size).toBe(1);
    expect(plan(editor).areas.get('A1')?.outline).toEqual(square);
  });
  test('nothing is pasted onto them', () => {
    const editor = editorAt();
    editor.commit(bed);
    editor.select([A1]);
    editor.copySelection();
    lockBeds(editor);
    editor.paste([8, 8]);
    expect(plan(editor).areas.size).toBe(1);
    expect(said(editor)).toBe(LOCKED);
  });
  test('hidden ones say that they are hidden', () => {
    const editor = editorAt();
    editor.commit(bed);
    editor.setLayers({ hidden: ['areas'], locked: [] });
    editor.select([A1]);
    expect(said(editor)).toBe('Beds, paving, lawns are hidden: show them under Layers.');
  });
});

describe('what was done is said', () => {
  test('undo, redo and delete', () => {
    const editor = editorAt();
    editor.commit(bed);
    editor.select([A1]);
    editor.removeSelection();
    expect(said(editor)).toBe('Deleted 1 area. Undo brings it back.');
    editor.undo();
    expect(said(editor)).toBe('Taken back: Delete');
    editor.redo();
    expect(said(editor)).toBe('Done again: Delete');
  });
  test('Delete by key tells how many', () => {
    const editor = editorAt();
    editor.commit(bed);
    editor.commit(bed);
    editor.selectAll();
    editor.input({ kind: 'back' });
    expect(said(editor)).toBe('Deleted 2 areas. Undo brings them back.');
    expect(plan(editor).areas.size).toBe(0);
  });
  test('undo and redo of opening another plan name the site', () => {
    const editor = editorAt();
    editor.commit(changePart('Change site', 'site', { name: 'Hillside' }));
    editor.open(emptyPlan());
    editor.undo();
    expect(said(editor)).toBe('Back to the plan before: Hillside');
    editor.redo();
    expect(said(editor)).toBe('Opened again: a site without a name');
  });
  test('nothing is said where there is nothing to take back', () => {
    const editor = editorAt();
    editor.undo();
    editor.redo();
    expect(said(editor)).toBeNull();
  });
});

describe('a resting pointer', () => {
  test('wakes nobody, and the list of what is chosen stays the same', () => {
    const editor = editorAt();
    editor.commit(bed);
    editor.select([A1]);
    const { selection } = editor.store.getState();
    let woken = 0;
    editor.store.subscribe(() => woken++);
    for (let i = 0; i < 20; i++) editor.input({ kind: 'move', at: [i / 2, 3] });
    expect(woken).toBe(0);
    editor.commit(changePart('Change site', 'site', { name: 'Hillside' }));
    expect(editor.store.getState().selection).toBe(selection);
  });
  test('a readout goes with undo and another tool', () => {
    const editor = editorAt();
    editor.commit(bed);
    editor.lookAt(3);
    editor.undo();
    expect(editor.store.getState().outlet).toBeNull();
    editor.lookAt(3);
    editor.chooseTool('tape');
    expect(editor.store.getState().outlet).toBeNull();
  });
});
