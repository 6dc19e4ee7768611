import type { Point } from '../../base/point.ts';
import { kpaToHead } from '../../hydraulics/index.ts';
import type { Plan } from '../../plan/records.ts';
import { groundOf } from '../ground/index.ts';
import { buildPlanNetwork } from '../network/index.ts';
import { UnionFind } from '../network/union-find.ts';
import type { PlacedOutlet, PlanNetwork } from '../results.ts';
import { drainsOf, type DrainGraph } from './drains.ts';

/** What leaves one outlet after the valve has shut. */
export interface DrainedOutlet {
  /** Index among the outlets of the plan's network. */
  readonly outlet: number;
  readonly owner: PlacedOutlet['owner'];
  readonly runId: string;
  readonly number: number;
  readonly at: Point;
  readonly volumeL: number;
  /** From the highest tubing whose water it lets out down to it, metres. */
  readonly fallM: number;
}

export interface DrainDown {
  /** Outlets that drain anything, the most first. */
  readonly outlets: readonly DrainedOutlet[];
  readonly drainedL: number;
  /** What stays in the tubing: below the outlets, behind humps and check valves. */
  readonly heldL: number;
  readonly totalL: number;
}

/**
 * Which outlet drains which share of the water in the tubing once the valve has shut. Water drains at the lowest outlet
 * that it can reach without climbing above itself; air enters elsewhere. Check valves let it pass one way only, once
 * the water stands above them by their opening pressure; an outlet with a check lets out what stands above it by more
 * than its closing pressure. All tubing that a supply reaches counts, and old pipe behind a control set.
 * @param options.checks false leaves all check valves out, to compare
 */
export function drainDown(plan: Plan, options: { readonly checks?: boolean } = {}): DrainDown {
  const planNetwork = buildPlanNetwork(plan);
  const graph = graphOf(plan, planNetwork, options.checks ?? true);
  const { volumeL, topM, heldL, totalL } = drainsOf(graph);
  const outlets = planNetwork.outlets
    .map(({ owner, runId, number, at }, outlet): DrainedOutlet => ({
      outlet,
      owner,
      runId,
      number,
      at,
      volumeL: volumeL[outlet]!,
      fallM: Math.max(0, topM[outlet]! - graph.outlets[outlet]!.zM),
    }))
    .filter((one) => one.volumeL > 0)
    .sort((a, b) => b.volumeL - a.volumeL || a.outlet - b.outlet);
  return { outlets, drainedL: outlets.reduce((sum, one) => sum + one.volumeL, 0), heldL, totalL };
}

/** Heights further from the straight line than this make a hump or a dip within a piece, metres. */
const HUMP = 0.005;

function graphOf(plan: Plan, planNetwork: PlanNetwork, withChecks: boolean): DrainGraph {
  const { network, pieces, parts, outlets } = planNetwork;
  const { from, to, lengthM, boreM } = network.links;
  const zM = [...network.nodes.elevationM];
  const known = groundOf(plan);
  const ground = known.knows === 'slope' ? known : null;
  const holds = holdsWater(planNetwork);
  const edges: { a: number; b: number; volumeL: number; onlyAToB: boolean; openM: number }[] = [];
  const pipe = (a: number, b: number, volumeL: number): void => {
    edges.push({ a, b, volumeL, onlyAToB: false, openM: 0 });
  };
  pieces.forEach((piece, link) => {
    if (!holds(link)) return;
    const volumeL = (Math.PI / 4) * boreM[link]! ** 2 * lengthM[link]! * 1000;
    const a = from[link]!;
    const b = to[link]!;
    const profile = ground?.profile([piece.a, piece.b]);
    if (!profile || profile.zM.length <= 2) {
      pipe(a, b, volumeL);
      return;
    }
    // The ground bends on the way: each hump or dip becomes a place of its own.
    let before = a;
    let done = 0;
    const lift = zM[a]! - profile.zM[0]!;
    const lastLift = zM[b]! - profile.zM.at(-1)!;
    for (let k = 1; k + 1 < profile.zM.length; k++) {
      const share = profile.groundAlong[k]! / profile.groundLengthM;
      const straight = zM[a]! + share * (zM[b]! - zM[a]!);
      const height = profile.zM[k]! + lift + share * (lastLift - lift);
      if (Math.abs(height - straight) < HUMP) continue;
      zM.push(height);
      pipe(before, zM.length - 1, volumeL * (share - done));
      before = zM.length - 1;
      done = share;
    }
    pipe(before, b, volumeL * (1 - done));
  });
  for (const { id, link } of parts.checkValves) {
    const openM = withChecks ? kpaToHead(Math.max(0, plan.checkValves.get(id)?.openKpa ?? 0)) : 0;
    edges.push({ a: from[link]!, b: to[link]!, volumeL: 0, onlyAToB: withChecks, openM });
  }
  return {
    zM,
    edges,
    outlets: outlets.map((outlet, i) => ({
      node: network.outlets.node[i]!,
      zM: network.nodes.elevationM[network.outlets.node[i]!]! + network.outlets.riseM[i]!,
      closingM: outlet.closingKpa === null ? 0 : kpaToHead(outlet.closingKpa),
    })),
  };
}

/** Whether a piece is tubing that a supply fills, or old pipe behind a control set. */
function holdsWater({ network, pieces, parts }: PlanNetwork): (link: number) => boolean {
  const groups = new UnionFind(network.nodes.count);
  pieces.forEach(({ owner }, link) => {
    if (owner.table !== 'controls') groups.join(network.links.from[link]!, network.links.to[link]!);
  });
  const behind = new Set(parts.controls.filter(({ fed }) => fed).map(({ outlet }) => groups.root(outlet)));
  const atSupply = new Set(parts.supplies.map(({ node }) => groups.root(node)));
  return (link) => {
    const { table } = pieces[link]!.owner;
    const group = groups.root(network.links.from[link]!);
    if (table === 'runs' || table === 'emitters') return behind.has(group) || atSupply.has(group);
    return table === 'laterals' && behind.has(group);
  };
}
