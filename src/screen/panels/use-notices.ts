import { useMemo } from 'react';
import { rewaived } from '../../derive/checks/index.ts';
import type { Notice } from '../../derive/results.ts';
import type { Plan } from '../../plan/records.ts';
import { useEditorState } from '../services.ts';

const NONE: readonly Notice[] = [];

/** Findings of all checks and of the solver on the last answer, with the waivers as they are now. */
export function useNotices(): readonly Notice[] {
  const notices = useEditorState((state) => state.answer?.notices ?? NONE);
  return useRewaived(notices);
}

/** The same for findings that were asked for on their own. */
export function useRewaived(notices: readonly Notice[]): readonly Notice[] {
  const checks = useEditorState((state) => state.history.plan.checks);
  return useMemo(() => rewaived({ checks }, notices), [checks, notices]);
}

/** Whether two plans are alike in all that the rules look at: the waivers apart. */
export function alikeButWaivers(a: Plan, b: Plan): boolean {
  if (a === b) return true;
  const keys = Object.keys(a) as (keyof Plan)[];
  return (
    keys.every((key) => key === 'checks' || a[key] === b[key]) && sameLimits(a.checks.limits, b.checks.limits)
  );
}

function sameLimits(a: Plan['checks']['limits'], b: Plan['checks']['limits']): boolean {
  const keys = Object.keys(a);
  return a === b || (keys.length === Object.keys(b).length && keys.every((key) => a[key] === b[key]));
}
