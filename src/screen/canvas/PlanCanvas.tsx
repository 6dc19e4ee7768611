import { useEffect, useRef, type ReactElement } from 'react';
import { Stage } from 'react-konva';
import type { ToolName } from '../../editor/index.ts';
import { useEditor, useEditorState, useServices } from '../services.ts';
import { useWords } from '../words/index.ts';
import { CrosshairFields } from './CrosshairFields.tsx';
import { createGestures } from './gestures.ts';
import { handleKey } from './keys.ts';
import { outletNear } from './outlet-index.ts';
import { OfferBar } from './OfferBar.tsx';
import { OutletCard } from './OutletCard.tsx';
import { DrawingLayers, GroundLayer, OverlayLayer } from './PaintedLayers.tsx';
import { PieceFields } from './PieceFields.tsx';
import { PointerPlace } from './PointerPlace.tsx';
import { ScaleBar } from './ScaleBar.tsx';

/** Reach of the pointer for reading an outlet's values, screen pixels. */
const HOVER_PX = { fine: 10, coarse: 22 } as const;

/** Tools under whose pointer no outlet is read: what they do would be hidden. */
const QUIET: readonly ToolName[] = ['lasso', 'tape'];

/** Whether the space bar means something to what has the focus. */
const ownsSpace = (focused: Element | null): boolean =>
  focused !== null &&
  focused.matches('button, input, select, textarea, a[href], summary, dialog, [contenteditable], [popover]');

/** The plan on the screen: photo and grid below, drawing above, gestures on top. */
export function PlanCanvas(): ReactElement {
  const editor = useEditor();
  const { pictures } = useServices();
  const words = useWords();
  const holder = useRef<HTMLDivElement>(null);
  const width = useEditorState((state) => state.camera.widthPx);
  const height = useEditorState((state) => state.camera.heightPx);
  const tool = useEditorState((state) => state.tool);

  useEffect(() => {
    const element = holder.current!;
    const resize = () => {
      const { camera: now } = editor.store.getState();
      const { clientWidth, clientHeight } = element;
      if (clientWidth && clientHeight && (now.widthPx !== clientWidth || now.heightPx !== clientHeight)) {
        editor.setCamera({ ...now, widthPx: clientWidth, heightPx: clientHeight });
      }
    };
    resize();
    const watcher = new ResizeObserver(resize);
    watcher.observe(element);

    const gestures = createGestures(editor, element, (at, pointer) => {
      const { answer, camera: now, tool: inHand } = editor.store.getState();
      if (!at || !answer || QUIET.includes(inHand)) return;
      editor.lookAt(outletNear(answer.results, at, HOVER_PX[pointer] / now.pixelsPerMetre));
    });
    const down = (event: PointerEvent) => {
      element.focus({ preventScroll: true });
      gestures.down(event);
    };
    // The focus is set by `down`; the browser's own turn, which comes later, would take it from a field again.
    const keepFocus = (event: MouseEvent) => event.preventDefault();
    const space = (event: KeyboardEvent) => {
      if (event.code !== 'Space') return;
      const held = event.type === 'keydown';
      if (held && (ownsSpace(document.activeElement) || editor.store.getState().crosshair)) return;
      if (held) event.preventDefault();
      gestures.holdSpace(held);
      element.dataset['panning'] = String(held);
    };
    const leave = (event: PointerEvent) => {
      // A finger that is lifted leaves too; what it tapped stays to be read.
      if (event.pointerType !== 'touch') editor.lookAt(null);
    };
    const letGo = () => {
      gestures.holdSpace(false);
      element.dataset['panning'] = 'false';
    };
    element.addEventListener('pointerleave', leave);
    window.addEventListener('blur', letGo);
    element.addEventListener('pointerdown', down);
    element.addEventListener('mousedown', keepFocus);
    element.addEventListener('pointermove', gestures.move);
    element.addEventListener('pointerup', gestures.up);
    element.addEventListener('pointercancel', gestures.cancel);
    element.addEventListener('wheel', gestures.wheel, { passive: false });
    element.addEventListener('dblclick', gestures.double);
    window.addEventListener('keydown', space);
    window.addEventListener('keyup', space);
    return () => {
      watcher.disconnect();
      element.removeEventListener('pointerleave', leave);
      window.removeEventListener('blur', letGo);
      element.removeEventListener('pointerdown', down);
      element.removeEventListener('mousedown', keepFocus);
      element.removeEventListener('pointermove', gestures.move);
      element.removeEventListener('pointerup', gestures.up);
      element.removeEventListener('pointercancel', gestures.cancel);
      element.removeEventListener('wheel', gestures.wheel);
      element.removeEventListener('dblclick', gestures.double);
      window.removeEventListener('keydown', space);
      window.removeEventListener('keyup', space);
    };
  }, [editor]);

  return (
    <div className="canvas">
      <div
        ref={holder}
        className="canvas-stage"
        data-tool={tool}
        tabIndex={0}
        role="application"
        aria-label={words.canvas.label}
        onKeyDown={(event) => handleKey(editor, event)}
      >
        <Stage width={width} height={height} listening={false}>
          <GroundLayer editor={editor} pictures={pictures} />
          <DrawingLayers editor={editor} pictures={pictures} />
          <OverlayLayer editor={editor} />
        </Stage>
      </div>
      <PointerPlace over={holder} />
      <CrosshairFields />
      <PieceFields />
      <OutletCard />
      <OfferBar />
      <ScaleBar />
    </div>
  );
}
