import { describe, expect, test } from 'vitest';
import { SUBJECTS } from '../drawing/index.ts';
import { TABLES } from '../plan/records.ts';
import { createEditor } from './store.ts';
import { add } from '../plan/edits/index.ts';
import { LAYER_HOLDS, mayTouch, PLAN_LAYERS, shownSubjects } from './layers.ts';

const PLANT = {
  at: [1, 1],
  name: 'sage',
  plantClass: 'shrub',
  canopyNowM: 0.5,
  canopyMatureM: 1,
  rootBallM: null,
  waterUse: null,
} as const;

test('every subject but those that have no place of their own, and every table, lies in a layer', () => {
  const tables = PLAN_LAYERS.flatMap((layer) => LAYER_HOLDS[layer].tables);
  expect([...tables].sort()).toEqual([...TABLES].sort());
  const subjects = new Set(PLAN_LAYERS.flatMap((layer) => LAYER_HOLDS[layer].subjects));
  expect(SUBJECTS.filter((subject) => !subjects.has(subject))).toEqual([]);
});

test('nothing hidden keeps the very same set, so that nothing is drawn anew', () => {
  const show = new Set(SUBJECTS);
  expect(shownSubjects(show, { hidden: [], locked: ['plants'] })).toBe(show);
  expect(shownSubjects(show, { hidden: ['plants'], locked: [] }).has('plants')).toBe(false);
});

describe('a layer that is hidden or locked', () => {
  test('is not caught by the pointer, and what was chosen on it is let go', () => {
    const editor = createEditor();
    editor.commit(add('Place plant', 'plants', PLANT));
    const [ref] = editor.under([1, 1]);
    expect(ref).toEqual({ table: 'plants', id: 'P1' });
    editor.select([ref!]);
    editor.setLayers({ hidden: [], locked: ['plants'] });
    expect(editor.store.getState().selection).toEqual([]);
    expect(editor.under([1, 1])).toEqual([]);
    expect(mayTouch(editor.store.getState().layers, ref!)).toBe(false);
    editor.setLayers({ hidden: ['plants'], locked: [] });
    expect(editor.under([1, 1])).toEqual([]);
    editor.setLayers({ hidden: [], locked: [] });
    expect(editor.under([1, 1])).toEqual([ref]);
  });

  test('is left out when all is chosen', () => {
    const editor = createEditor();
    editor.commit(add('Place plant', 'plants', PLANT));
    editor.commit(add('Set level', 'levels', { at: [3, 3], zM: 1 }));
    editor.setLayers({ hidden: [], locked: ['heights'] });
    editor.selectAll();
    expect(editor.store.getState().selection).toEqual([{ table: 'plants', id: 'P1' }]);
  });
});
