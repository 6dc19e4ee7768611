import { useMemo } from 'react';
import { checkPlan } from '../../derive/checks/index.ts';
import type { Notice } from '../../derive/results.ts';
import { useEditorState } from '../services.ts';

/** Findings of all checks on the kept plan, with those of the solver. */
export function useNotices(): readonly Notice[] {
  const plan = useEditorState((state) => state.history.plan);
  const answer = useEditorState((state) => state.answer);
  const units = useEditorState((state) => state.units);
  return useMemo(
    () =>
      answer
        ? [...answer.results.notices, ...checkPlan(plan, answer.planNetwork, answer.results, units)]
        : [],
    [plan, answer, units],
  );
}
