import { freshId, freshIds, remove } from '../../plan/edits/index.ts';
import type { Fill, FillChoices, FlushEnd, Plan, RingChoices, Run } from '../../plan/records.ts';
import type { Filled } from './choices.ts';

/** What a fill is for, and how it was laid. */
export type FilledPlace = {
  /** The control set that water is to be led from; the nearest where it is left out or gone. */
  readonly leadFrom?: string | undefined;
} & (
  | { readonly kind: 'bed'; readonly areaId: string; readonly choices: FillChoices }
  | { readonly kind: 'tree'; readonly plantId: string; readonly choices: RingChoices }
);

/** The plan without some runs and what hangs on them, and without some fills. */
export function withoutRuns(plan: Plan, runs: readonly Run[], fills: readonly Fill[]): Plan {
  const refs = [
    ...runs.map(({ id }) => ({ table: 'runs', id }) as const),
    ...fills.map(({ id }) => ({ table: 'fills', id }) as const),
  ];
  return refs.length ? remove('', refs).apply(plan) : plan;
}

/**
 * `plan` with the runs and flush ends of a fill, and with the record that lets them follow their place. Ids are such as
 * `before` does not use.
 * @param place `null`: runs that follow nothing
 * @param leadCount how many of the last runs lead water to it; `null` where none is to
 */
export function withFilled(
  before: Plan,
  plan: Plan,
  filled: Filled,
  place: FilledPlace | null,
  leadCount: number | null,
): Plan {
  const runIds = freshIds(before, 'runs', filled.runs.length);
  const flushIds = freshIds(before, 'flushEnds', filled.flushEnds.length);
  const runs = filled.runs.map((run, i): Run => ({ ...run, id: runIds[i]! }));
  const flushEnds = filled.flushEnds.map(({ run, end }, i): FlushEnd => ({
    id: flushIds[i]!,
    runId: runIds[run]!,
    end,
  }));
  const next = { ...plan, runs: plan.runs.with(...runs), flushEnds: plan.flushEnds.with(...flushEnds) };
  if (!place) return next;
  const leads = leadCount === null ? {} : { leadIds: runIds.slice(runIds.length - leadCount) };
  const fill: Fill = { id: freshId(before, 'fills'), runIds, byHand: false, ...place, ...leads };
  return { ...next, fills: plan.fills.with(fill) };
}
