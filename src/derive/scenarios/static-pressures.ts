import { memo } from '../../base/memo.ts';
import { PSI_KPA } from '../../base/units.ts';
import { headToKpa } from '../../hydraulics/index.ts';
import type { Plan } from '../../plan/records.ts';
import { UnionFind } from '../network/union-find.ts';
import type { PlanNetwork } from '../results.ts';
import { isAbove } from '../wording.ts';
import { creepShareOf } from './network-for.ts';

/** Most that the usual fittings of drip tubing hold, kPa. */
export const FITTING_RATING_KPA = 50 * PSI_KPA;
export const FITTING_SOURCE = 'common practice: 50 psi for insert and compression fittings of drip tubing';

/** What stands on the parts while nothing flows. */
export interface StaticPressures {
  /** Total head by node, metres; NaN where no pressure is known. */
  readonly headM: Float64Array;
  /** Outlets (indices) that have more than they may, the one most above its limit first. */
  readonly outletsOver: readonly number[];
  /** Highest pressure on each run that water reaches, kPa. */
  readonly runs: readonly { readonly runId: string; readonly highestKpa: number }[];
  /** Runs on which the fittings have more than they hold, with the highest pressure on each, kPa. */
  readonly runsOver: readonly { readonly runId: string; readonly highestKpa: number }[];
  /** Highest pressure on any run, kPa; NaN without any. */
  readonly highestKpa: number;
}

/**
 * Pressures with all outlets shut, without solving: standing water has one head throughout, and a regulator passes on
 * the lower of what comes and of its setting with its creep. Where several feed one part the highest counts.
 */
export const staticOf = memo((controls: Plan['controls'], planNetwork: PlanNetwork): StaticPressures => {
  const { network, parts, pieces, runNodes, outlets } = planNetwork;
  const { elevationM, fixedHeadM, count } = network.nodes;
  const groups = new UnionFind(count);
  const regulators = new Set(parts.controls.map(({ regulatorLink }) => regulatorLink));
  for (let link = 0; link < pieces.length; link++) {
    if (!regulators.has(link)) groups.join(network.links.from[link]!, network.links.to[link]!);
  }
  const headOf = new Map<number, number>();
  const raise = (node: number, headM: number): boolean => {
    const group = groups.root(node);
    if (!(headM > (headOf.get(group) ?? -Infinity) + 1e-9)) return false;
    headOf.set(group, headM);
    return true;
  };
  for (let node = 0; node < count; node++)
    if (!Number.isNaN(fixedHeadM[node])) raise(node, fixedHeadM[node]!);
  // Each round carries pressure past one more regulator in line.
  for (let round = 0, changed = true; changed && round <= parts.controls.length; round++) {
    changed = false;
    for (const { id, outlet, regulatorLink } of parts.controls) {
      const before = headOf.get(groups.root(network.links.from[regulatorLink]!));
      if (before === undefined) continue;
      const setM = network.links.settingM[regulatorLink]! * (1 + creepShareOf({ controls }, id));
      if (raise(outlet, Math.min(before, elevationM[outlet]! + setM))) changed = true;
    }
  }
  const headM = new Float64Array(count);
  for (let node = 0; node < count; node++) headM[node] = headOf.get(groups.root(node)) ?? NaN;

  const over = outlets.map((outlet, i) => {
    const node = network.outlets.node[i]!;
    return headToKpa(headM[node]! - elevationM[node]! - network.outlets.riseM[i]!) / outlet.maxKpa;
  });
  const outletsOver = over
    .flatMap((share, i) => (isAbove(share, 1) ? [i] : []))
    .sort((a, b) => over[b]! - over[a]!);
  let highestKpa = NaN;
  const runs: { runId: string; highestKpa: number }[] = [];
  for (const [runId, nodes] of runNodes) {
    let kpa = -Infinity;
    for (const node of nodes) kpa = Math.max(kpa, headToKpa(headM[node]! - elevationM[node]!));
    if (!Number.isFinite(kpa)) continue;
    if (!(highestKpa >= kpa)) highestKpa = kpa;
    runs.push({ runId, highestKpa: kpa });
  }
  const runsOver = runs.filter((run) => isAbove(run.highestKpa, FITTING_RATING_KPA));
  return { headM, outletsOver, runs, runsOver, highestKpa };
});
