import { FOOT_M } from '../../base/units.ts';
import type { ReactElement } from 'react';
import { boxOf, type Box, type Point } from '../../base/point.ts';
import { fitPhoto, photoToPlan } from '../../derive/photo-fit.ts';
import { fitted, zoomed, type Editor } from '../../editor/index.ts';
import type { Plan } from '../../plan/records.ts';
import { useEditor, useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';

/** Box round everything on the plan, the photo included; null when there is nothing. */
export function planBox(plan: Plan): Box | null {
  const points: Point[] = [];
  for (const area of plan.areas) points.push(...area.outline);
  for (const run of plan.runs) points.push(...run.path);
  for (const pipe of plan.laterals) points.push(pipe.a, pipe.b);
  for (const plant of plan.plants) {
    const r = plant.canopyMatureM / 2;
    points.push([plant.at[0] - r, plant.at[1] - r], [plant.at[0] + r, plant.at[1] + r]);
  }
  for (const table of ['levels', 'heads', 'emitters', 'controls', 'supplies'] as const) {
    for (const record of plan[table]) points.push(record.at);
  }
  const { photo } = plan;
  if (photo) {
    for (const px of [
      [0, 0],
      [photo.widthPx, 0],
      [0, photo.heightPx],
      [photo.widthPx, photo.heightPx],
    ] as const) {
      points.push(photoToPlan(photo, px));
    }
  }
  return boxOf(points);
}

/** Shows the whole plan. */
export function showAll(editor: Editor): void {
  const { camera, history } = editor.store.getState();
  const box = planBox(history.plan) ?? { minX: 0, minY: 0, maxX: 12, maxY: 9 };
  editor.setCamera(fitted(camera, box));
}

const STEPS = [0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500];
const LONGEST_PX = 120;

/** Zoom buttons and a bar that is true to scale. */
export function ScaleBar(): ReactElement {
  const editor = useEditor();
  const words = useWords();
  const camera = useEditorState((state) => state.camera);
  const units = useEditorState((state) => state.units);
  const photo = useEditorState((state) => state.history.plan.photo);
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
      <button type="button" onClick={() => showAll(editor)} title={words.canvas.fit}>
        {words.canvas.fit}
      </button>
    </div>
  );
}
