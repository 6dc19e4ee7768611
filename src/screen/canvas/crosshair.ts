import { distance, type Point } from '../../base/point.ts';
import { panned, toScreen, type Editor } from '../../editor/index.ts';

/** One press of an arrow key moves the crosshair so many pixels; with Shift, with Alt. */
const STEP_PX = { usual: 10, coarse: 50, fine: 1 } as const;
/** Nearer than this to the last corner Enter finishes the shape, pixels. */
const SAME_PX = 4;
/** The view follows when the crosshair comes this near to its edge, pixels. */
const MARGIN_PX = 30;

const ARROWS: Readonly<Record<string, Point>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

/** Puts the crosshair at a place, where the tool in hand then holds its pen; the view follows. */
export function holdAt(editor: Editor, at: Point): void {
  editor.setCrosshair(at);
  const { camera } = editor.store.getState();
  const [x, y] = toScreen(camera, at);
  const over = (value: number, size: number) =>
    value < MARGIN_PX ? MARGIN_PX - value : value > size - MARGIN_PX ? size - MARGIN_PX - value : 0;
  const [dx, dy] = [over(x, camera.widthPx), over(y, camera.heightPx)];
  if (dx || dy) editor.setCamera(panned(camera, dx, dy));
  editor.input({ kind: 'move', at });
}

/** Presses with the pen where the crosshair is, and takes it to where the corner was caught. */
export function pressAt(editor: Editor, at: Point): void {
  editor.input({ kind: 'down', at, add: false });
  editor.input({ kind: 'up', at });
  const { draft } = editor.store.getState();
  const caught = draft.dots.at(-1);
  if (caught) editor.setCrosshair(caught);
}

/**
 * Drawing with keys alone: Enter shows a crosshair in the middle of the view, arrows move it, Space or Enter sets a
 * corner there, Enter on the corner set last finishes, Escape first drops the shape and then the crosshair. Says whether the
 * key was for it.
 */
export function crosshairKey(
  editor: Editor,
  event: { readonly key: string; readonly shiftKey: boolean; readonly altKey: boolean },
): boolean {
  const { tool, toolState, crosshair, draft, camera } = editor.store.getState();
  if (tool === 'select' || tool === 'pan') return false;
  if ((toolState as { readonly name?: string }).name === 'asking') return false;
  if (!crosshair) {
    if (event.key !== 'Enter' || draft.dots.length > 0) return false;
    holdAt(editor, camera.center);
    return true;
  }
  const arrow = ARROWS[event.key];
  if (arrow) {
    const px = event.altKey ? STEP_PX.fine : event.shiftKey ? STEP_PX.coarse : STEP_PX.usual;
    const by = px / camera.pixelsPerMetre;
    holdAt(editor, [crosshair[0] + arrow[0] * by, crosshair[1] + arrow[1] * by]);
    return true;
  }
  if (event.key === 'Enter') {
    const last = draft.dots.at(-1);
    if (last && distance(last, crosshair) * camera.pixelsPerMetre < SAME_PX) editor.input({ kind: 'enter' });
    else pressAt(editor, crosshair);
    return true;
  }
  if (event.key === ' ') {
    pressAt(editor, crosshair);
    return true;
  }
  if (event.key === 'Escape' && draft.dots.length === 0 && draft.lines.length === 0) {
    editor.setCrosshair(null);
    return true;
  }
  return false;
}
