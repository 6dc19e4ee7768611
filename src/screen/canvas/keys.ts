import type { KeyboardEvent } from 'react';
import { panned, showAll, showChosen, zoomed, type Editor, type ToolName } from '../../editor/index.ts';
import type { AreaUse } from '../../plan/records.ts';
import { crosshairKey } from './crosshair.ts';

/** Tools by key; the uses of an area are one tool with different choices. */
export const TOOL_KEYS: Readonly<Record<string, { tool: ToolName; areaUse?: AreaUse }>> = {
  s: { tool: 'select' },
  h: { tool: 'pan' },
  m: { tool: 'measure' },
  r: { tool: 'rectify' },
  b: { tool: 'area', areaUse: 'bed' },
  g: { tool: 'area', areaUse: 'paving' },
  u: { tool: 'area', areaUse: 'lawn' },
  k: { tool: 'area', areaUse: 'building' },
  l: { tool: 'level' },
  a: { tool: 'fall' },
  x: { tool: 'section' },
  p: { tool: 'plant' },
  w: { tool: 'supply' },
  n: { tool: 'head' },
  j: { tool: 'lateral' },
  f: { tool: 'control' },
  d: { tool: 'inline' },
  t: { tool: 'blank' },
  e: { tool: 'emitter' },
  c: { tool: 'check' },
  o: { tool: 'flush' },
  q: { tool: 'lasso' },
  i: { tool: 'row' },
  v: { tool: 'grid' },
  y: { tool: 'brush' },
  z: { tool: 'tape' },
  // All letters are taken.
  '7': { tool: 'relief' },
  '8': { tool: 'drain' },
};

const PAN_PX = 60;
const NUDGE_M = { fine: 0.05, coarse: 0.5 } as const;
const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

/** Steps to the next or previous outlet of the answer, round and round. */
export function stepOutlet(editor: Editor, by: number): void {
  const { answer, outlet } = editor.store.getState();
  const count = answer?.results.outlets.length ?? 0;
  if (!count) return;
  editor.lookAt(outlet === null ? (by > 0 ? 0 : count - 1) : (outlet + by + count) % count);
}

/** Whether runs follow the contour line, said at the foot. */
function switchContour(editor: Editor): void {
  const followContour = !editor.store.getState().choices.followContour;
  editor.setChoices({ followContour });
  editor.say(followContour ? 'Runs follow the contour line.' : 'Runs are drawn straight.');
}

function zoomMiddle(editor: Editor, factor: number): void {
  const { camera } = editor.store.getState();
  editor.setCamera(zoomed(camera, factor, [camera.widthPx / 2, camera.heightPx / 2]));
}

/**
 * Keys that do the same wherever nothing is being typed: tools, zoom, outlets, Delete. Says whether the key was one
 * of them.
 */
export function handleKeyAnywhere(editor: Editor, event: Pick<KeyboardEvent, 'key' | 'altKey'>): boolean {
  const key = event.key.length === 1 ? event.key.toLowerCase() : event.key;
  const named: Readonly<Record<string, () => void>> = {
    Delete: () => editor.input({ kind: 'back' }),
    '+': () => zoomMiddle(editor, 1.25),
    '=': () => zoomMiddle(editor, 1.25),
    '-': () => zoomMiddle(editor, 0.8),
    '0': () => showAll(editor),
    '9': () => showChosen(editor),
    '/': () => switchContour(editor),
    ',': () => stepOutlet(editor, -1),
    '.': () => stepOutlet(editor, 1),
  };
  const action = named[key];
  if (action) {
    action();
    return true;
  }
  const isDigit = key >= '0' && key <= '9';
  // A digit while a piece is drawn is the start of its length.
  const isLength = isDigit && editor.store.getState().draft.piece !== null;
  const choice = event.altKey || isLength ? undefined : TOOL_KEYS[key];
  if (!choice) return false;
  editor.chooseTool(choice.tool, choice.areaUse ? { areaUse: choice.areaUse } : undefined);
  // What the tool wants next, Enter and Escape among it, is for the canvas.
  document.querySelector<HTMLElement>('.canvas-stage')?.focus({ preventScroll: true });
  return true;
}

/** Keys while the canvas has the focus. */
export function handleKey(editor: Editor, event: KeyboardEvent): void {
  if (event.ctrlKey || event.metaKey) return;
  const { selection, draft, camera } = editor.store.getState();
  const key = event.key.length === 1 ? event.key.toLowerCase() : event.key;

  if (crosshairKey(editor, event)) {
    event.preventDefault();
    return;
  }
  const arrow = ARROWS[key];
  if (arrow) {
    event.preventDefault();
    if (selection.length) {
      const by = event.shiftKey ? NUDGE_M.coarse : NUDGE_M.fine;
      editor.nudgeSelection(arrow[0] * by, arrow[1] * by);
    } else editor.setCamera(panned(camera, -arrow[0] * PAN_PX, arrow[1] * PAN_PX));
    return;
  }
  // Digits while a piece is drawn go to its length field, which takes over from there.
  if (draft.piece && /^[0-9.,]$/.test(key)) {
    const field = document.querySelector<HTMLInputElement>('[data-piece="length"]');
    if (field) {
      // From here on the field has the focus, and the key must mean nothing else to whoever hears it next.
      event.stopPropagation();
      field.focus();
      return;
    }
  }
  const named: Readonly<Record<string, () => void>> = {
    Enter: () => editor.input({ kind: 'enter' }),
    Escape: () => editor.input({ kind: 'escape' }),
    Backspace: () => editor.input({ kind: 'back' }),
  };
  const action = named[key];
  if (action) {
    event.preventDefault();
    action();
    return;
  }
  if (handleKeyAnywhere(editor, event)) event.preventDefault();
}
