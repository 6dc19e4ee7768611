import { refKey } from '../../plan/records.ts';
import { distance, type Point } from '../../base/point.ts';
import { panned, toGround, zoomed, type Editor, type Pointer, type ToolName } from '../../editor/index.ts';

/** Turns pointers and the wheel into camera moves and inputs for the tool in hand. */
export interface Gestures {
  down(event: PointerEvent): void;
  move(event: PointerEvent): void;
  up(event: PointerEvent): void;
  cancel(event: PointerEvent): void;
  wheel(event: WheelEvent): void;
  double(event: MouseEvent): void;
  /** While the space bar is held every drag pans. */
  holdSpace(held: boolean): void;
}

const WHEEL_ZOOM = 0.0015;
/** Tools that draw by dragging: a finger draws with them at once, two fingers move the view. */
const DRAGGED: readonly ToolName[] = ['lasso', 'grid', 'brush'];
/** A pointer that moves less than this lies still, screen pixels: pages shift it by themselves. */
const STILL_PX = 3;
/** A finger that moves less than this taps, screen pixels. */
const TAP_PX = 8;

export function createGestures(
  editor: Editor,
  element: HTMLElement,
  hover: (at: Point | null, pointer: Pointer) => void,
): Gestures {
  const touches = new Map<number, Point>();
  let mode: 'none' | 'tool' | 'pan' | 'pinch' | 'tap' = 'none';
  let last: Point = [0, 0];
  let space = false;
  /** Where the pointer lay last. */
  let rested: Point | null = null;
  /** Where a finger that may yet choose something came down. */
  let pressedAt: Point | null = null;

  const place = (event: MouseEvent): Point => {
    const box = element.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  };
  const camera = () => editor.store.getState().camera;
  const ground = (px: Point) => toGround(camera(), px);
  /** Ends a press that has set nothing yet: what it would set is no longer shown, corners set before stay. */
  const dropTap = (pointer: Pointer) => {
    const { draft, snapOff } = editor.store.getState();
    const corner = draft.dots.at(-1);
    if (!corner) return editor.input({ kind: 'up', at: ground(last) }, pointer);
    // The pen goes back to the last corner, and is caught nowhere else on the way.
    editor.setSnapOff(true);
    editor.input({ kind: 'move', at: corner }, pointer);
    editor.setSnapOff(snapOff);
  };
  const isChosen = (at: Point) => {
    const { selection } = editor.store.getState();
    const keys = new Set(selection.map(refKey));
    return selection.length > 0 && editor.under(at, 'coarse').some((ref) => keys.has(refKey(ref)));
  };
  const kindOf = (event: PointerEvent): Pointer => (event.pointerType === 'touch' ? 'coarse' : 'fine');

  return {
    down(event) {
      const px = place(event);
      const pointer = kindOf(event);
      element.setPointerCapture(event.pointerId);
      editor.setCrosshair(null);
      editor.lookAt(null);
      if (pointer === 'coarse') {
        touches.set(event.pointerId, px);
        if (touches.size === 2) {
          // A second finger means zooming: whatever the first one began is dropped.
          if (mode === 'tool') editor.input({ kind: 'escape' }, pointer);
          if (mode === 'tap') dropTap(pointer);
          mode = 'pinch';
          pressedAt = null;
          return;
        }
        if (touches.size > 2) return;
      }
      last = px;
      const { tool } = editor.store.getState();
      if (event.button === 1 || space || tool === 'pan') {
        mode = 'pan';
        return;
      }
      if (event.button !== 0) return;
      const at = ground(px);
      if (pointer === 'coarse' && tool !== 'select' && !DRAGGED.includes(tool)) {
        // A finger hides what it points at, so drawing tools set their point where it is lifted.
        mode = 'tap';
        editor.input({ kind: 'move', at }, pointer);
        return;
      }
      if (pointer === 'coarse' && tool === 'select' && !isChosen(at)) {
        // One finger moves the view, unless it lies on what is chosen already; lifted in place it chooses.
        mode = 'pan';
        pressedAt = px;
        return;
      }
      mode = 'tool';
      editor.input({ kind: 'down', at, add: event.shiftKey }, pointer);
    },

    move(event) {
      const px = place(event);
      const pointer = kindOf(event);
      if (mode === 'pinch') {
        const before = touches.get(event.pointerId);
        const other = [...touches].find(([id]) => id !== event.pointerId)?.[1];
        if (!before || !other) return;
        const middle = (a: Point): Point => [(a[0] + other[0]) / 2, (a[1] + other[1]) / 2];
        const from = middle(before);
        const to = middle(px);
        touches.set(event.pointerId, px);
        const factor = distance(px, other) / Math.max(distance(before, other), 1);
        editor.setCamera(zoomed(panned(camera(), to[0] - from[0], to[1] - from[1]), factor, to));
        return;
      }
      if (touches.has(event.pointerId)) touches.set(event.pointerId, px);
      if (mode === 'pan') {
        if (pressedAt && distance(pressedAt, px) < TAP_PX) return;
        pressedAt = null;
        editor.setCamera(panned(camera(), px[0] - last[0], px[1] - last[1]));
        last = px;
        return;
      }
      const at = ground(px);
      if (editor.store.getState().crosshair && mode === 'none') {
        // Whoever draws with keys is not disturbed by a pointer that lies there.
        if (distance(rested ?? px, px) < STILL_PX) {
          rested ??= px;
          return;
        }
        editor.setCrosshair(null);
      }
      rested = px;
      editor.setSnapOff(event.altKey);
      if (mode === 'tool' || mode === 'tap' || pointer === 'fine')
        editor.input({ kind: 'move', at }, pointer);
      if (mode === 'none') hover(at, pointer);
    },

    up(event) {
      const px = place(event);
      const pointer = kindOf(event);
      touches.delete(event.pointerId);
      if (mode === 'pinch') {
        if (touches.size === 0) mode = 'none';
        return;
      }
      const at = ground(px);
      if (mode === 'pan' && pressedAt) {
        pressedAt = null;
        if (editor.under(at, pointer).length === 0) editor.input({ kind: 'escape' }, pointer);
        else {
          editor.input({ kind: 'down', at, add: false }, pointer);
          editor.input({ kind: 'up', at }, pointer);
        }
        hover(at, pointer);
      }
      if (mode === 'tap') {
        editor.input({ kind: 'down', at, add: false }, pointer);
        hover(at, pointer);
      }
      if (mode === 'tool' || mode === 'tap') editor.input({ kind: 'up', at }, pointer);
      if (mode === 'tool' && pointer === 'coarse') hover(at, pointer);
      mode = 'none';
    },

    cancel(event) {
      touches.delete(event.pointerId);
      if (mode === 'tool') editor.input({ kind: 'escape' }, kindOf(event));
      if (mode === 'tap') dropTap(kindOf(event));
      mode = touches.size ? mode : 'none';
    },

    wheel(event) {
      event.preventDefault();
      const px = place(event);
      const scale = event.deltaMode === 1 ? 16 : 1;
      if (event.shiftKey || event.altKey) {
        const by = (event.deltaY || event.deltaX) * scale;
        editor.setCamera(panned(camera(), event.shiftKey ? -by : 0, event.shiftKey ? 0 : -by));
        return;
      }
      // A pinch on a trackpad comes as a wheel with Ctrl and small steps.
      const strength = event.ctrlKey ? 6 : 1;
      editor.setCamera(zoomed(camera(), Math.exp(-event.deltaY * scale * WHEEL_ZOOM * strength), px));
    },

    double(event) {
      if (event.button === 0) editor.input({ kind: 'double', at: ground(place(event)) });
    },

    holdSpace(held) {
      space = held;
    },
  };
}
