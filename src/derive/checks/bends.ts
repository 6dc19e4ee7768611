import type { Point } from '../../base/point.ts';
import { formatQuantity } from '../../base/quantity.ts';
import type { Run } from '../../plan/records.ts';
import { BEND_LIMITS, BEND_SOURCE, bendLimitOf, FITTING_M, tightCorners } from '../bend-radius.ts';
import { called } from '../network/notices.ts';
import type { Notice } from '../results.ts';
import { runIndex } from '../run-index.ts';
import { agree, listed } from '../wording.ts';
import type { Check, Limit, Rule } from './check.ts';

/** More places than this are not marked one by one. */
const MOST_PLACES = 200;

/** Tubing kinks where it is bent too tight; where another run joins there is a fitting anyway. */
const bends: Check = ({ plan, units, limit }) => {
  const index = runIndex(plan.runs);
  const tight = new Map<Limit, { readonly run: Run; readonly at: readonly Point[] }[]>();
  for (const run of plan.runs) {
    const radius = bendLimitOf(run.tubing);
    if (!radius) continue;
    const at = tightCorners(run.path, limit(radius), (corner) =>
      index.passing(corner, FITTING_M).some((id) => id !== run.id),
    );
    if (at.length === 0) continue;
    const known = tight.get(radius);
    if (known) known.push({ run, at });
    else tight.set(radius, [{ run, at }]);
  }
  return [...tight].map(([radius, found]): Notice => {
    const places = found.flatMap(({ at }) => at);
    const corners = places.length;
    const runs = found.map(({ run }) => run);
    return {
      rule: 'bend-tight',
      severity: 'info',
      message: `${corners} ${agree(corners, 'bend', 'bends')} of ${agree(runs.length, 'run', 'runs')} ${listed(runs.map(called))} ${agree(corners, 'is', 'are')} tighter than ${formatQuantity('length', limit(radius), units)}, to which this tubing bends without a kink. Set an elbow there, or draw a wider bend.`,
      refs: runs.map(({ id }) => ({ table: 'runs', id }) as const),
      places: places.slice(0, MOST_PLACES),
      source: BEND_SOURCE,
    };
  });
};

export const bendTight: Rule = {
  number: null,
  title: 'Bends wide enough for the tubing',
  says: ['bend-tight'],
  severity: 'info',
  limits: Object.values(BEND_LIMITS),
  source: BEND_SOURCE,
  check: bends,
};
