import { memo } from '../../base/memo.ts';
import { JOINT_TOLERANCE_M } from '../../plan/joining.ts';
import type { Plan } from '../../plan/records.ts';
import { called } from '../network/notices.ts';
import type { Notice } from '../results.ts';
import { runIndex } from '../run-index.ts';
import { agree, listed } from '../wording.ts';
import type { Rule } from './check.ts';

const SOURCE =
  'common practice: tubing that crosses tubing is joined by a fitting, or laid so that it does not';

/** More places than this are not marked one by one. */
const MOST_PLACES = 200;

const crossing = memo((runs: Plan['runs']): Notice[] => {
  const found = runIndex(runs).crossings(JOINT_TOLERANCE_M);
  if (found.length === 0) return [];
  const ids = [...new Set(found.flatMap(({ ids: pair }) => pair))];
  const named = ids.flatMap((id) => runs.get(id) ?? []).map(called);
  return [
    {
      rule: 'runs-cross',
      severity: 'warning',
      message: `${agree(named.length, 'Run', 'Runs')} ${listed(named)} ${agree(named.length, 'crosses itself', 'cross')} at ${found.length} ${agree(found.length, 'place', 'places')} without a joint: no water passes there from one to the other. If they are to be joined, give one of them a corner at that place; else lay one past the other.`,
      refs: ids.map((id) => ({ table: 'runs', id }) as const),
      places: found.slice(0, MOST_PLACES).map(({ at }) => at),
      source: SOURCE,
    },
  ];
});

export const runsCross: Rule = {
  number: null,
  title: 'Runs that cross without a joint',
  says: ['runs-cross'],
  severity: 'warning',
  limits: [],
  source: SOURCE,
  check: ({ plan }) => crossing(plan.runs),
};
