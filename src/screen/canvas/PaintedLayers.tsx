import type Konva from 'konva';
import { useCallback, useEffect, useRef, useState, type ReactElement } from 'react';
import { Layer, Shape } from 'react-konva';
import { useStore } from 'zustand';
import { memo } from '../../base/memo.ts';
import type { LayerName } from '../../drawing/index.ts';
import { shownPlan, type Editor } from '../../editor/index.ts';
import type { PictureSource } from '../services.ts';
import { paintGrid } from './grid.ts';
import { KeptPicture } from './kept-picture.ts';
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

/** Grid and site photo, with the beds on them: both change seldom. */
export function GroundLayer({ editor, pictures }: Props): ReactElement {
  const layer = useRef<Konva.Layer>(null);
  const camera = useStore(editor.store, (state) => state.camera);
  const units = useStore(editor.store, (state) => state.units);
  const photo = useDrawing(editor)[0]!;
  const [kept] = useState(() => new KeptPicture());
  useEffect(
    () =>
      pictures.subscribe(() => {
        kept.forget();
        layer.current?.batchDraw();
      }),
    [pictures, kept],
  );
  const paint = useCallback(
    (context: CanvasRenderingContext2D) =>
      kept.paint(context, [camera, units, photo], (on) => {
        paintGrid(on, camera, units);
        paintLayers(on, camera, [photo], pictures);
      }),
    [camera, units, photo, pictures, kept],
  );
  return (
    <Layer ref={layer} listening={false}>
      <Painted paint={paint} />
      <Drawn editor={editor} pictures={pictures} names={BEDS} />
    </Layer>
  );
}

/** Some layers of the drawing. */
function Drawn({ editor, pictures, names }: Props & { readonly names: readonly LayerName[] }): ReactElement {
  const camera = useStore(editor.store, (state) => state.camera);
  const layers = useDrawing(editor);
  const own = useSame(layers.filter(({ name }) => names.includes(name)));
  const paint = useCallback(
    (context: CanvasRenderingContext2D) => paintLayers(context, camera, own, pictures),
    [camera, own, pictures],
  );
  return <Painted paint={paint} />;
}

/** The list given before, as long as the new one holds the very same things. */
function useSame<T>(list: readonly T[]): readonly T[] {
  const [same] = useState(() => memo((...all: readonly T[]) => all));
  return same(...list);
}

function Lettering({ editor }: Pick<Props, 'editor'>): ReactElement {
  const camera = useStore(editor.store, (state) => state.camera);
  const texts = textsOf(useDrawing(editor));
  const paint = useCallback(
    (context: CanvasRenderingContext2D) => paintTexts(context, camera, texts),
    [camera, texts],
  );
  return <Painted paint={paint} />;
}

const BEDS: readonly LayerName[] = ['ground', 'existing'];
const PLANTS: readonly LayerName[] = ['plants'];
const DRIP: readonly LayerName[] = ['tubing', 'outlets', 'labels'];

/**
 * What is drawn above the beds, on a canvas each for what changes together: new colours paint neither plants nor names
 * anew. Five canvases in all, as many as the library advises at most.
 */
export function DrawingLayers(props: Props): ReactElement {
  return (
    <>
      <Layer listening={false}>
        <Drawn {...props} names={PLANTS} />
      </Layer>
      <Layer listening={false}>
        <Drawn {...props} names={DRIP} />
      </Layer>
      <Layer listening={false}>
        <Lettering editor={props.editor} />
      </Layer>
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
