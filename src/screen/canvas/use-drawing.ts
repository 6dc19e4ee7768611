import { useMemo } from 'react';
import { useStore } from 'zustand';
import { fitPhoto } from '../../derive/photo-fit.ts';
import { DEFAULT_SHOW, drawPlan, type Layer, type Subject } from '../../drawing/index.ts';
import { shownPlan, type Editor, type ViewName } from '../../editor/index.ts';
import type { Plan } from '../../plan/records.ts';
import { useEditorState } from '../services.ts';

/** The plan as it is shown now: with the draft of a gesture applied. */
export function useShownPlan(): Plan {
  return useEditorState(shownPlan);
}

/** Where the old zone is surveyed, judged and tied in to, its heads are named; tints of slopes only in the survey, when asked. */
const WITH_HEADS: ReadonlySet<Subject> = new Set([...DEFAULT_SHOW, 'headTags']);
const WITH_SLOPES: ReadonlySet<Subject> = new Set([...WITH_HEADS, 'slopes']);

function shownIn(view: ViewName, slopes: boolean): ReadonlySet<Subject> {
  if (view !== 'survey' && view !== 'decide' && view !== 'layout') return DEFAULT_SHOW;
  return slopes && view === 'survey' ? WITH_SLOPES : WITH_HEADS;
}

/** The drawing of the shown plan (photo layer first), with the last answer of the solver laid over it. */
export function useDrawing(editor: Editor): readonly Layer[] {
  const plan = useStore(editor.store, shownPlan);
  const units = useStore(editor.store, (state) => state.units);
  const results = useStore(editor.store, (state) => state.answer?.results ?? null);
  const show = useStore(editor.store, (state) => shownIn(state.view, state.showSlopes));
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
