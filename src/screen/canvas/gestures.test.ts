import { describe, expect, test } from 'vitest';
import { createEditor, toScreen, type ToolName } from '../../editor/index.ts';
import type { Point } from '../../base/point.ts';
import { createGestures } from './gestures.ts';

const element = {
  getBoundingClientRect: () => ({ left: 0, top: 0 }),
  setPointerCapture: () => undefined,
} as unknown as HTMLElement;

/** An editor under fingers and a mouse; places are metres on the ground. */
function hand(tool: ToolName) {
  const editor = createEditor();
  editor.setCamera({ center: [5, 5], pixelsPerMetre: 80, widthPx: 800, heightPx: 600 });
  editor.chooseTool(tool);
  const gestures = createGestures(editor, element, () => undefined);
  const event = (id: number, at: Point, pointerType: string): PointerEvent => {
    const [clientX, clientY] = toScreen(editor.store.getState().camera, at);
    return { pointerId: id, pointerType, clientX, clientY, button: 0 } as PointerEvent;
  };
  return {
    editor,
    gestures,
    finger: (id: number, kind: 'down' | 'move' | 'up', at: Point) => gestures[kind](event(id, at, 'touch')),
    mouse: (kind: 'down' | 'move' | 'up', at: Point) => gestures[kind](event(1, at, 'mouse')),
  };
}
type Hand = ReturnType<typeof hand>;

const tap = ({ finger }: Hand, at: Point) => {
  finger(1, 'down', at);
  finger(1, 'up', at);
};
const drawn = ({ editor }: Hand) =>
  editor.store
    .getState()
    .draft.lines.filter(({ guide }) => !guide)
    .map(({ points }) => points);

describe('a second finger while a run is drawn', () => {
  const corners: readonly Point[] = [
    [2, 2],
    [6, 2],
    [6, 6],
  ];
  test('leaves the corners that were set, and no line to where the first finger lay', () => {
    const one = hand('inline');
    for (const at of corners) tap(one, at);
    one.finger(1, 'down', [4, 0.7]);
    expect(drawn(one)[0]).toHaveLength(4);
    one.finger(2, 'down', [7, 7]);
    one.finger(2, 'move', [7.2, 7.3]);
    one.finger(1, 'up', [4, 0.7]);
    one.finger(2, 'up', [7.2, 7.3]);
    expect(drawn(one)).toEqual([corners]);
    expect(one.editor.store.getState().draft.signs?.some(({ kind }) => kind === 'cross') ?? false).toBe(
      false,
    );
    expect(one.editor.store.getState().snapOff).toBe(false);
    one.editor.input({ kind: 'enter' });
    expect([...one.editor.store.getState().history.plan.runs][0]?.path).toEqual(corners);
  });
  test('nothing is drawn where no corner was set yet', () => {
    const one = hand('inline');
    one.finger(1, 'down', [4, 4]);
    one.finger(2, 'down', [7, 7]);
    one.finger(1, 'up', [4, 4]);
    one.finger(2, 'up', [7, 7]);
    expect(drawn(one)).toEqual([]);
    expect(one.editor.store.getState().draft.dots).toEqual([]);
  });
});

test('while Space is held a drag pans and moves nothing', () => {
  const one = hand('plant');
  one.mouse('move', [3, 3]);
  one.mouse('down', [3, 3]);
  one.mouse('up', [3, 3]);
  one.editor.chooseTool('select');
  const { plan } = one.editor.store.getState().history;
  expect(plan.plants.size).toBe(1);
  const { center } = one.editor.store.getState().camera;
  one.gestures.holdSpace(true);
  one.mouse('down', [3, 3]);
  one.mouse('move', [4, 3]);
  one.mouse('up', [4, 3]);
  expect(one.editor.store.getState().history.plan).toBe(plan);
  expect(one.editor.store.getState().camera.center[0]).toBeLessThan(center[0]);
});

test('a press takes the readout of an outlet away', () => {
  const one = hand('select');
  one.editor.lookAt(2);
  one.mouse('down', [3, 3]);
  expect(one.editor.store.getState().outlet).toBeNull();
});
