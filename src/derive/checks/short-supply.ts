import { memo } from '../../base/memo.ts';
import { headToKpa } from '../../hydraulics/index.ts';
import { calledAs } from '../network/notices.ts';
import { UnionFind } from '../network/union-find.ts';
import type { PlacedControl, PlanNetwork, Results } from '../results.ts';
import { isBelow } from '../wording.ts';
import type { CheckInput } from './check.ts';

/** A control set whose regulator stands open, since the supply gives too little for its setting. */
export interface StarvedControl {
  readonly placed: PlacedControl;
  /** Pressure before the regulator, kPa. */
  readonly inletKpa: number;
}

interface Shortage {
  readonly starved: readonly StarvedControl[];
  /** By outlet: index of the starved control set before it, or -1. */
  readonly before: Int32Array;
}

/** Which outlets stand behind a regulator that cannot hold its setting. */
export const shortageOf = memo((planNetwork: PlanNetwork, results: Results): Shortage => {
  const { network, pieces, parts } = planNetwork;
  const { headM } = results.solution;
  const kpaAt = (node: number): number => headToKpa(headM[node]! - network.nodes.elevationM[node]!);
  const before = new Int32Array(network.outlets.count).fill(-1);
  const starved = parts.controls
    .filter(
      ({ outlet, regulatorLink }) =>
        isBelow(kpaAt(outlet), headToKpa(network.links.settingM[regulatorLink]!)) &&
        results.solution.flowM3s[regulatorLink]! > 0,
    )
    .map((placed): StarvedControl => ({
      placed,
      inletKpa: kpaAt(network.links.from[placed.regulatorLink]!),
    }));
  if (starved.length === 0) return { starved, before };
  const groups = new UnionFind(network.nodes.count);
  for (let link = 0; link < network.links.count; link++) {
    if (pieces[link]!.owner.table === 'controls') continue;
    groups.join(network.links.from[link]!, network.links.to[link]!);
  }
  const controlOf = new Map(starved.map(({ placed }, c) => [groups.root(placed.outlet), c]));
  for (let i = 0; i < before.length; i++) {
    before[i] = controlOf.get(groups.root(network.outlets.node[i]!)) ?? -1;
  }
  return { starved, before };
});

/** What to do about outlets with too little pressure: more supply where that is the cause, else the usual ways. */
export function wayOut(
  { plan, planNetwork, results }: CheckInput,
  outletIndices: readonly number[],
  usual: string,
): string {
  const { starved, before } = shortageOf(planNetwork, results);
  const cause = outletIndices.map((i) => before[i]!).find((c) => c >= 0);
  if (cause === undefined) return usual;
  const control = plan.controls.get(starved[cause]!.placed.id) ?? { id: starved[cause]!.placed.id };
  return `The cause is the supply: it gives too little at ${calledAs('control set', control)} for the regulator to hold its setting.`;
}
