import { expect, test } from 'vitest';
import { createEditor } from '../store.ts';

/** What the fingers do when a second one comes down: the pen goes back to the last corner, uncaught. */
test('a pen that lies on the last corner draws neither a line nor crossing marks on from there', () => {
  const editor = createEditor();
  editor.setCamera({ center: [5, 5], pixelsPerMetre: 80, widthPx: 800, heightPx: 600 });
  editor.chooseTool('inline');
  for (const at of [
    [1, 1],
    [4, 1],
    [4, 4],
  ] as const) {
    editor.input({ kind: 'move', at });
    editor.input({ kind: 'down', at, add: false });
    editor.input({ kind: 'up', at });
  }
  // A third piece that would cross the first.
  editor.input({ kind: 'move', at: [2, 0] });
  expect(editor.store.getState().draft.signs?.length ?? 0).toBeGreaterThan(0);
  const corner = editor.store.getState().draft.dots.at(-1)!;
  editor.setSnapOff(true);
  editor.input({ kind: 'move', at: corner });
  editor.setSnapOff(false);
  const { draft } = editor.store.getState();
  expect(draft.lines.filter(({ guide }) => !guide).map(({ points }) => points)).toEqual([
    [
      [1, 1],
      [4, 1],
      [4, 4],
    ],
  ]);
  expect(draft.signs?.some(({ kind }) => kind === 'cross') ?? false).toBe(false);
  expect(draft.dots).toHaveLength(3);
  editor.input({ kind: 'enter' });
  expect([...editor.store.getState().history.plan.runs][0]?.path).toHaveLength(3);
});
