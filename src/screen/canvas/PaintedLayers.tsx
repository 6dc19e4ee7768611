import type Konva from 'konva';
import { useCallback, useEffect, useMemo, useRef, type ReactElement } from 'react';
import { Layer, Shape } from 'react-konva';
import { useStore } from 'zustand';
import { shownPlan, type Editor } from '../../editor/index.ts';
import type { PictureSource } from '../services.ts';
import { paintGrid } from './grid.ts';
import { paintOverlay } from './overlay.ts';
import { paintLayers } from './painter.ts';
import { useDrawing } from './use-drawing.ts';

/*
 * Each layer subscribes to just what it paints, so that a moving pointer redraws the overlay alone. Everything in a
 * layer is one shape that paints by itself: Konva owns the canvases and when they are redrawn, nothing more.
 */

interface Props {
  readonly editor: Editor;
  readonly pictures: PictureSource;
}

function Painted({ paint }: { readonly paint: (context: CanvasRenderingContext2D) => void }): ReactElement {
  const scene = useCallback(
    (context: Konva.Context) => {
      const native = context._context;
      native.save();
      paint(native);
      native.restore();
    },
    [paint],
  );
  return <Shape listening={false} perfectDrawEnabled={false} sceneFunc={scene} />;
}

/** Grid and site photo. */
export function GroundLayer({ editor, pictures }: Props): ReactElement {
  const layer = useRef<Konva.Layer>(null);
  const camera = useStore(editor.store, (state) => state.camera);
  const units = useStore(editor.store, (state) => state.units);
  const photo = useDrawing(editor)[0]!;
  useEffect(() => pictures.subscribe(() => layer.current?.batchDraw()), [pictures]);
  const paint = useCallback(
    (context: CanvasRenderingContext2D) => {
      paintGrid(context, camera, units);
      paintLayers(context, camera, [photo], pictures);
    },
    [camera, units, photo, pictures],
  );
  return (
    <Layer ref={layer} listening={false}>
      <Painted paint={paint} />
    </Layer>
  );
}

/** Everything drawn. */
export function DrawingLayer({ editor, pictures }: Props): ReactElement {
  const camera = useStore(editor.store, (state) => state.camera);
  const layers = useDrawing(editor);
  const above = useMemo(() => layers.slice(1), [layers]);
  const paint = useCallback(
    (context: CanvasRenderingContext2D) => paintLayers(context, camera, above, pictures),
    [camera, above, pictures],
  );
  return (
    <Layer listening={false}>
      <Painted paint={paint} />
    </Layer>
  );
}

/** Selection, handles and the gesture under way. */
export function OverlayLayer({ editor }: Pick<Props, 'editor'>): ReactElement {
  const state = useStore(editor.store);
  const paint = useCallback(
    (context: CanvasRenderingContext2D) => paintOverlay(context, state.camera, state, shownPlan(state)),
    [state],
  );
  return (
    <Layer listening={false}>
      <Painted paint={paint} />
    </Layer>
  );
}
