import type Konva from 'konva';
import { useCallback, useEffect, useRef, useState, type ReactElement } from 'react';
import { Layer, Shape } from 'react-konva';
import { useStore } from 'zustand';
import { memo } from '../../base/memo.ts';
import type { LayerName } from '../../drawing/index.ts';
import { shownPlan, type Editor } from '../../editor/index.ts';
import type { PictureSource } from '../services.ts';
import { paintGrid } from './grid.ts';
import { paintOverlay } from './overlay.ts';
import { paintLayers, paintTexts, textsOf } from './painter.ts';
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

/** Some layers of the drawing on a canvas of their own: what stays as it is need not be painted when others change. */
function DrawnLayer({
  editor,
  pictures,
  names,
}: Props & { readonly names: readonly LayerName[] }): ReactElement {
  const camera = useStore(editor.store, (state) => state.camera);
  const layers = useDrawing(editor);
  const own = useSame(layers.filter(({ name }) => names.includes(name)));
  const paint = useCallback(
    (context: CanvasRenderingContext2D) => paintLayers(context, camera, own, pictures),
    [camera, own, pictures],
  );
  return (
    <Layer listening={false}>
      <Painted paint={paint} />
    </Layer>
  );
}

/** The list given before, as long as the new one holds the very same things. */
function useSame<T>(list: readonly T[]): readonly T[] {
  const [same] = useState(() => memo((...all: readonly T[]) => all));
  return same(...list);
}

function LetteringLayer({ editor }: Pick<Props, 'editor'>): ReactElement {
  const camera = useStore(editor.store, (state) => state.camera);
  const texts = textsOf(useDrawing(editor));
  const paint = useCallback(
    (context: CanvasRenderingContext2D) => paintTexts(context, camera, texts),
    [camera, texts],
  );
  return (
    <Layer listening={false}>
      <Painted paint={paint} />
    </Layer>
  );
}

/** What shares a canvas, from below to above: what is dragged, the many plants, and what answers colour. */
const CANVASES: readonly (readonly LayerName[])[] = [
  ['ground', 'existing'],
  ['plants'],
  ['tubing', 'outlets', 'labels'],
];

/** Everything drawn. */
export function DrawingLayers({ editor, pictures }: Props): ReactElement {
  return (
    <>
      {CANVASES.map((names) => (
        <DrawnLayer key={names[0]} editor={editor} pictures={pictures} names={names} />
      ))}
      <LetteringLayer editor={editor} />
    </>
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
