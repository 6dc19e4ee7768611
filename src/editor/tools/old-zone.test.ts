import { describe, expect, test } from 'vitest';
import { FOOT_M } from '../../base/units.ts';
import type { Point } from '../../base/point.ts';
import { UNMEASURED_HEAD } from '../../plan/empty.ts';
import { createEditor, shownPlan, type Editor } from '../store.ts';
import { headHandles } from './head.ts';

/** An editor on a blank plan; 9 px of reach are 0.11 m. */
function blank(): Editor {
  const editor = createEditor();
  editor.setCamera({ center: [5, 5], pixelsPerMetre: 80, widthPx: 800, heightPx: 600 });
  return editor;
}
const plan = (editor: Editor) => editor.store.getState().history.plan;
const saying = (editor: Editor) => editor.store.getState().saying?.text;
const press = (editor: Editor, at: Point) => {
  editor.input({ kind: 'move', at });
  editor.input({ kind: 'down', at, add: false });
  editor.input({ kind: 'up', at });
};
const drag = (editor: Editor, from: Point, to: Point) => {
  editor.input({ kind: 'move', at: from });
  editor.input({ kind: 'down', at: from, add: false });
  editor.input({ kind: 'move', at: to });
  editor.input({ kind: 'up', at: to });
};
const chain = (editor: Editor, ...path: Point[]) => {
  editor.chooseTool('lateral');
  for (const at of path) press(editor, at);
  editor.input({ kind: 'enter' });
};
const names = (editor: Editor) => [...plan(editor).laterals].map(({ from, to }) => `${from}-${to}`);

describe('spray heads', () => {
  test('a press sets one like the choices; what is not chosen is not measured', () => {
    const editor = blank();
    editor.chooseTool('head');
    press(editor, [2, 2]);
    expect([...plan(editor).heads]).toMatchObject([
      { id: 'H1', at: [2, 2], pattern: null, flowLph: null, fate: 'undecided' },
    ]);
    expect(editor.store.getState().selection).toEqual([{ table: 'heads', id: 'H1' }]);
  });

  test('pulled away from, the pointer gives middle direction and radius', () => {
    const editor = blank();
    const { head } = editor.store.getState().choices;
    const pattern = { kind: 'sector', radiusM: 9, startDeg: 0, sweepDeg: 90 } as const;
    editor.chooseTool('head', { head: { ...head, pattern, flowLph: 100 } });
    drag(editor, [2, 2], [2, 5]);
    expect(plan(editor).heads.get('H1')).toMatchObject({
      at: [2, 2],
      flowLph: 100,
      pattern: { kind: 'sector', radiusM: 3, startDeg: 45, sweepDeg: 90 },
    });
  });

  test('it is shown while it is pulled, kept once, and one undo takes it back', () => {
    const editor = blank();
    editor.chooseTool('head');
    editor.input({ kind: 'down', at: [2, 2], add: false });
    editor.input({ kind: 'move', at: [4, 2] });
    expect(shownPlan(editor.store.getState()).heads.get('H1')!.pattern).toMatchObject({ radiusM: 2 });
    expect(plan(editor).heads.size).toBe(0);
    editor.input({ kind: 'escape' });
    expect(shownPlan(editor.store.getState()).heads.size).toBe(0);
    drag(editor, [2, 2], [4, 2]);
    expect(plan(editor).heads.size).toBe(1);
    editor.undo();
    expect(plan(editor).heads.size).toBe(0);
  });

  test('a second press on a head chooses it instead', () => {
    const editor = blank();
    editor.chooseTool('head');
    press(editor, [2, 2]);
    press(editor, [5, 5]);
    press(editor, [2.01, 2]);
    expect(plan(editor).heads.size).toBe(2);
    expect(saying(editor)).toContain('H1 stands here already');
    expect(editor.store.getState().selection).toEqual([{ table: 'heads', id: 'H1' }]);
  });

  test('handles of the chosen head reshape its sector', () => {
    const editor = blank();
    const { head } = editor.store.getState().choices;
    const pattern = { kind: 'sector', radiusM: 3, startDeg: 0, sweepDeg: 90 } as const;
    editor.chooseTool('head', { head: { ...head, pattern } });
    press(editor, [2, 2]);
    editor.chooseTool('select');
    editor.select([{ table: 'heads', id: 'H1' }]);
    const spots = headHandles(plan(editor), editor.store.getState().selection);
    expect(spots.map(({ handle }) => handle)).toEqual(['radius', 'end', 'start']);
    drag(editor, [2, 5], [-1, 2.1]);
    expect(plan(editor).heads.get('H1')!.pattern).toMatchObject({ startDeg: 0, sweepDeg: 180, radiusM: 3 });
    // A finger on a handle is on the head, or it would pan.
    expect(editor.under([5.1, 2.1], 'coarse')).toEqual([{ table: 'heads', id: 'H1' }]);
    expect(editor.under([4, 4], 'coarse')).toEqual([]);
    editor.setSnapOff(true);
    drag(editor, [5, 2], [4, 2.1]);
    const free = plan(editor).heads.get('H1')!.pattern;
    expect(free?.kind === 'sector' && free.startDeg % 5).toBeGreaterThan(0.1);
    expect(plan(editor).heads.get('H1')!.at).toEqual([2, 2]);
  });
});

describe('the old lateral', () => {
  test('a comb by hand: names, tees and typed lengths', () => {
    const editor = blank();
    editor.chooseTool('supply');
    press(editor, [1, 1]);
    editor.chooseTool('head');
    for (const at of [
      [3, 4],
      [6, 4],
      [9, 1],
    ] as const)
      press(editor, at);
    // A hand off the heads: the pointer catches on them.
    chain(editor, [1.05, 1], [9.05, 1.05]);
    chain(editor, [3, 1.04], [3.04, 4]);
    chain(editor, [6, 0.96], [6.04, 4]);
    expect(names(editor)).toEqual(['V1-N1', 'N1-N2', 'N1-H1', 'N2-H3', 'N2-H2']);

    editor.chooseTool('lateral');
    press(editor, [9, 1]);
    editor.input({ kind: 'move', at: [9, 1.5] });
    editor.input({ kind: 'typed', lengthM: 10 * FOOT_M, directionDeg: 90 });
    editor.input({ kind: 'enter' });
    const last = [...plan(editor).laterals].at(-1)!;
    expect(last).toMatchObject({ from: 'H3', to: 'N3', a: [9, 1] });
    expect(last.b[1]).toBeCloseTo(1 + 3.048, 9);
  });

  test('only what was drawn is chosen, and it is one step of undo', () => {
    const editor = blank();
    chain(editor, [1, 1], [8, 1]);
    const before = plan(editor);
    chain(editor, [4, 1], [4, 3], [6, 3]);
    expect(editor.store.getState().selection.map(({ id }) => id)).toEqual(['L3', 'L4']);
    expect(plan(editor).laterals.size).toBe(4);
    editor.undo();
    expect(plan(editor)).toBe(before);
  });

  test('a piece that is there already says so', () => {
    const editor = blank();
    chain(editor, [1, 1], [8, 1]);
    const before = plan(editor);
    chain(editor, [8, 1], [1, 1]);
    expect(plan(editor)).toBe(before);
    expect(saying(editor)).toContain('already');
  });

  test('the end of a chosen piece is dragged, and a head takes its pipe along', () => {
    const editor = blank();
    editor.chooseTool('head');
    press(editor, [5, 1]);
    chain(editor, [1, 1], [5, 1]);
    editor.chooseTool('select');
    editor.select([{ table: 'laterals', id: 'L1' }]);
    drag(editor, [1, 1], [1, 3]);
    expect(plan(editor).laterals.get('L1')).toMatchObject({ a: [1, 3], b: [5, 1], from: 'N1', to: 'H1' });
    // A press on the end of the chosen pipe means the head that stands there.
    press(editor, [5, 1]);
    expect(editor.store.getState().selection).toEqual([{ table: 'heads', id: 'H1' }]);
    drag(editor, [5, 1], [6, 2]);
    expect(plan(editor).laterals.get('L1')).toMatchObject({ a: [1, 3], b: [6, 2], to: 'H1' });
  });
});

describe('a control set at an old head', () => {
  test('stands on the pipe that passes the head, and makes it the tie-in', () => {
    const editor = blank();
    chain(editor, [1, 1], [8, 1]);
    editor.commit({
      label: '',
      apply: (now) => ({ ...now, heads: now.heads.with({ ...UNMEASURED_HEAD, id: 'H1', at: [5, 1.14] }) }),
    });
    editor.chooseTool('control');
    press(editor, [5.02, 1.16]);
    expect([...plan(editor).controls].map(({ at }) => at)).toEqual([[5, 1]]);
    expect(plan(editor).heads.get('H1')!.fate).toBe('tie-in');
  });
  test('stays at a head without a pipe', () => {
    const editor = blank();
    editor.chooseTool('head');
    press(editor, [5, 5]);
    editor.chooseTool('control');
    press(editor, [5.02, 5.02]);
    expect([...plan(editor).controls].map(({ at }) => at)).toEqual([[5, 5]]);
  });
});
