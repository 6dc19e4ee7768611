import { FOOT_M } from '../../base/units.ts';
import type { ReactElement } from 'react';
import { fitPhoto } from '../../derive/photo-fit.ts';
import { showAll, showChosen, zoomed } from '../../editor/index.ts';
import { useEditor, useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { LayersMenu } from './LayersMenu.tsx';

const STEPS = [0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500];
const LONGEST_PX = 120;

/** Zoom buttons and a bar that is true to scale. */
export function ScaleBar(): ReactElement {
  const editor = useEditor();
  const words = useWords();
  const camera = useEditorState((state) => state.camera);
  const units = useEditorState((state) => state.units);
  const photo = useEditorState((state) => state.history.plan.photo);
  const chosen = useEditorState((state) => state.selection.length > 0);
  const unitM = units === 'us' ? FOOT_M : 1;
  const step = STEPS.findLast((s) => s * unitM * camera.pixelsPerMetre <= LONGEST_PX) ?? STEPS[0]!;
  const zoom = (factor: number) =>
    editor.setCamera(zoomed(camera, factor, [camera.widthPx / 2, camera.heightPx / 2]));
  const unscaled = photo && !fitPhoto(photo).scaled;
  return (
    <div className="scale">
      {unscaled ? null : (
        <div className="scale-bar" style={{ width: step * unitM * camera.pixelsPerMetre }}>
          {step} {units === 'us' ? 'ft' : 'm'}
        </div>
      )}
      <button
        type="button"
        onClick={() => zoom(0.8)}
        aria-label={words.canvas.zoomOut}
        title={words.canvas.zoomOut}
      >
        −
      </button>
      <button
        type="button"
        onClick={() => zoom(1.25)}
        aria-label={words.canvas.zoomIn}
        title={words.canvas.zoomIn}
      >
        +
      </button>
      {chosen && (
        <button type="button" onClick={() => showChosen(editor)} title={words.canvas.fitChosen}>
          {words.canvas.fitChosen}
        </button>
      )}
      <LayersMenu />
      <button type="button" onClick={() => showAll(editor)} title={words.canvas.fit}>
        {words.canvas.fit}
      </button>
    </div>
  );
}
