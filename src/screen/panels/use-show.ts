import { useCallback } from 'react';
import { boxOf, type Box, type Point } from '../../base/point.ts';
import { fitted } from '../../editor/index.ts';
import { placesOf } from '../../plan/places.ts';
import type { Ref } from '../../plan/records.ts';
import { useEditor } from '../services.ts';
import { useWords } from '../words/index.ts';

/** Ground shown about what is shown, metres: enough to see where one is. */
const SURROUNDINGS_M = 3;
const grown = (box: Box): Box => ({
  minX: box.minX - SURROUNDINGS_M,
  minY: box.minY - SURROUNDINGS_M,
  maxX: box.maxX + SURROUNDINGS_M,
  maxY: box.maxY + SURROUNDINGS_M,
});

const shown = new WeakSet<readonly Ref[]>();

/** Whether a selection was made by a list of the panel and not by a press on the plan. */
export const isShown = (selection: readonly Ref[]): boolean => shown.has(selection);

/** Selects records, rings places, and brings all into view; records that are gone are left out. */
export function useShow(): (refs: readonly Ref[], places?: readonly Point[]) => void {
  const editor = useEditor();
  const words = useWords().notices;
  return useCallback(
    (wanted, places = []) => {
      const { history, camera } = editor.store.getState();
      const refs = wanted.filter((ref) => history.plan[ref.table].has(ref.id));
      shown.add(refs);
      editor.chooseTool('select');
      editor.select(refs, places);
      const box = boxOf([...refs.flatMap((ref) => placesOf(history.plan, ref)), ...places]);
      editor.lookAt(null);
      if (box) editor.setCamera(fitted(camera, grown(box), 0.15));
      const count = refs.length + places.length;
      if (count > 0) editor.say(words.marked(count));
      else if (wanted.length > 0) editor.say(words.gone);
    },
    [editor, words],
  );
}
