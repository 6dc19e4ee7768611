import { useMemo } from 'react';
import { useStore } from 'zustand';
import { fitPhoto } from '../../derive/photo-fit.ts';
import { drawPlan, type Layer } from '../../drawing/index.ts';
import { shownPlan, shownSubjects, viewSubjects, type Editor } from '../../editor/index.ts';
import type { Plan } from '../../plan/records.ts';
import { useEditorState } from '../services.ts';

/** The plan as it is shown now: with the draft of a gesture applied. */
export function useShownPlan(): Plan {
  return useEditorState(shownPlan);
}

/** The drawing of the shown plan (photo layer first), with the last answer of the solver laid over it. */
export function useDrawing(editor: Editor): readonly Layer[] {
  const plan = useStore(editor.store, shownPlan);
  const units = useStore(editor.store, (state) => state.units);
  const results = useStore(editor.store, (state) => state.answer?.results ?? null);
  const inView = useStore(editor.store, viewSubjects);
  const layersShown = useStore(editor.store, (state) => state.layers);
  const show = useMemo(() => shownSubjects(inView, layersShown), [inView, layersShown]);
  const { photo } = plan;
  const photoMetresPerPixel = useMemo(() => (photo ? fitPhoto(photo).metresPerPixel : 1), [photo]);
  return useMemo(
    () =>
      drawPlan(plan, results, {
        units,
        show,
        colourRange: null,
        photoMetresPerPixel,
      }),
    [plan, results, units, show, photoMetresPerPixel],
  );
}
