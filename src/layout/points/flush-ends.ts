import { distance, type Point } from '../../base/point.ts';
import { runIndex } from '../../derive/run-index.ts';
import { freshIds } from '../../plan/edits/index.ts';
import { JOINT_TOLERANCE_M } from '../../plan/joining.ts';
import { placeOnRun } from '../../plan/on-run.ts';
import type { FlushEnd, Plan, Run } from '../../plan/records.ts';

/**
 * The plan with a flush end at each end of the new runs at which nothing joins and no water enters: silt settles there.
 * One at which new tubing begins now is none any more.
 * @param plan with the new runs on it
 * @param entry where water is to enter besides control sets, supplies and tie-ins
 */
export function withFlushEnds(plan: Plan, fresh: readonly Run[], entry: readonly Point[] = []): Plan {
  if (fresh.length === 0) return plan;
  const index = runIndex(plan.runs);
  const water = [
    ...entry,
    ...[...plan.controls, ...plan.supplies].map(({ at }) => at),
    ...[...plan.heads].filter(({ fate }) => fate === 'tie-in').map(({ at }) => at),
  ];
  const isFree = (runId: string, at: Point): boolean =>
    index.passing(at, JOINT_TOLERANCE_M).every((other) => other === runId) &&
    water.every((place) => distance(place, at) > JOINT_TOLERANCE_M);
  const ends = fresh.flatMap(({ id, path }) => {
    const free: FlushEnd['end'][] = isFree(id, path.at(-1)!) ? ['end'] : [];
    // A run that others feed in its middle has two ends; with no water on the plan yet it is to enter at the starts.
    if (water.length > 0 && isFree(id, path[0]!)) free.push('start');
    return free.map((end) => ({ runId: id, end }));
  });
  const joined = [...plan.flushEnds].filter(({ id }) => {
    const at = placeOnRun(plan, { table: 'flushEnds', id });
    return at !== null && fresh.some(({ path }) => distance(path[0]!, at) <= JOINT_TOLERANCE_M);
  });
  if (ends.length === 0 && joined.length === 0) return plan;
  const ids = freshIds(plan, 'flushEnds', ends.length);
  const set = ends.map((end, i): FlushEnd => ({ id: ids[i]!, ...end }));
  return { ...plan, flushEnds: plan.flushEnds.without(joined.map(({ id }) => id)).with(...set) };
}
