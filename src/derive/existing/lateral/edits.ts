import { change, freshIds, together, type Edit } from '../../../plan/edits/index.ts';
import type { HeadFate, LateralFate, LateralPipe, Plan } from '../../../plan/records.ts';
import type { RecordSplit, TieIn } from './tie-in.ts';

/**
 * Makes a tie-in that of its zone, in one edit: fates of all heads and old pipes of the zone, and cuts in two the
 * pipes of which parts have different fates. Records that are gone meanwhile are passed over.
 */
export function tieInEdits(_plan: Plan, tieIn: TieIn, label = `Tie in at ${tieIn.id}`): Edit {
  const splitIds = new Set(tieIn.splits.map(({ lateralId }) => lateralId));
  return together(label, [
    ...byFate<HeadFate>(tieIn.fates).map(([fate, ids]) => change(label, 'heads', ids, { fate })),
    ...byFate<LateralFate>(tieIn.pieceFates).map(([fate, ids]) =>
      change(
        label,
        'laterals',
        ids.filter((id) => !splitIds.has(id)),
        { fate },
      ),
    ),
    ...tieIn.splits.map((split): Edit => ({ label, apply: (plan) => applySplit(plan, split) })),
  ]);
}

function byFate<F extends string>(fates: Readonly<Record<string, F>>): [F, string[]][] {
  const groups = new Map<F, string[]>();
  for (const [id, fate] of Object.entries(fates)) {
    const list = groups.get(fate);
    if (list) list.push(id);
    else groups.set(fate, [id]);
  }
  return [...groups];
}

/** The record keeps its id as the first part; the others follow under fresh ids, all else as it was. */
function applySplit(plan: Plan, { lateralId, parts }: RecordSplit): Plan {
  const record = plan.laterals.get(lateralId);
  if (!record || parts.length === 0) return plan;
  const ids = freshIds(plan, 'laterals', parts.length - 1);
  const pieces = parts.map((part, i): LateralPipe => ({
    ...record,
    ...part,
    id: i === 0 ? lateralId : ids[i - 1]!,
    from: i === 0 ? record.from : part.from,
    to: i === parts.length - 1 ? record.to : part.to,
  }));
  return { ...plan, laterals: plan.laterals.with(...pieces) };
}
