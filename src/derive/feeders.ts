import type { Practice } from '../plan/records.ts';
import type { PlacedOutlet } from './results.ts';

/** Feeders are cut longer than the straight way by this where the plan says nothing else, percent. */
export const USUAL_FEEDER_SLACK_PERCENT = 10;
export const FEEDER_SLACK_SOURCE =
  'instructions of a tree-kit programme: about 10 % more length, so that tubing can lie in bows';

/**
 * Length to which feeders are cut, metres.
 * @param laidM the straight way on the ground, metres
 */
export function feederCutM(laidM: number, { feederSlackPercent }: Practice): number {
  return laidM * (1 + (feederSlackPercent ?? USUAL_FEEDER_SLACK_PERCENT) / 100);
}

/** All feeders that get their water through one tap of a run: one emitter, or several on one feeder tube. */
export interface FeederTube {
  /** Whose feeder starts at the run. */
  readonly rootId: string;
  /** All emitters on it, those nearer to the run before those behind them. */
  readonly emitterIds: readonly string[];
  /** Rated flow of all, which the first piece carries, L/h. */
  readonly ratedFlowLph: number;
  /** Longest way through feeders from the run to an emitter, metres. */
  readonly longestM: number;
}

/** The feeder tubes of outlets in the order of a network; emitters on the tubing itself have none. */
export function feederTubes(outlets: readonly PlacedOutlet[]): FeederTube[] {
  const tubes = new Map<string, { ids: string[]; flowLph: number; longestM: number }>();
  const rootOf = new Map<string, { readonly root: string; readonly wayM: number }>();
  for (const { owner, feederM, fromEmitterId, ratedFlowLph } of outlets) {
    if (owner.table !== 'emitters') continue;
    const start = fromEmitterId === undefined ? undefined : rootOf.get(fromEmitterId);
    if (!start && feederM === 0) continue;
    const own = { root: start?.root ?? owner.id, wayM: (start?.wayM ?? 0) + feederM };
    rootOf.set(owner.id, own);
    const tube = tubes.get(own.root) ?? { ids: [], flowLph: 0, longestM: 0 };
    tubes.set(own.root, tube);
    tube.ids.push(owner.id);
    tube.flowLph += ratedFlowLph;
    tube.longestM = Math.max(tube.longestM, own.wayM);
  }
  return [...tubes].map(([rootId, { ids, flowLph, longestM }]) => ({
    rootId,
    emitterIds: ids,
    ratedFlowLph: flowLph,
    longestM,
  }));
}
