import { called } from '../network/notices.ts';
import type { Check } from './check.ts';

/** Drip tubing needs a filter and a regulator before it. */
export const bareRuns: Check = ({ plan, planNetwork }) => {
  const runs = planNetwork.parts.bareRuns.flatMap((id) => plan.runs.get(id) ?? []);
  if (runs.length === 0) return [];
  return [
    {
      rule: 'no-control-set',
      severity: 'error',
      message: `No filter and regulator stand before run ${runs.map(called).join(', ')}: set a control set at the valve or at the tie-in.`,
      refs: runs.map((run) => ({ table: 'runs', id: run.id }) as const),
      source: 'common practice: valve, filter, regulator, pipe, in the order of flow',
    },
  ];
};
