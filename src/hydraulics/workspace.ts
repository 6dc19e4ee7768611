import { LINK, type Network, type Solution } from './network.ts';
import { examine, type Examined } from './examine.ts';
import { buildGraph, type Graph } from './graph.ts';
import { buildOrdering, type Ordering } from './ordering.ts';
import { buildOutletTable, readOutlets, type OutletTable } from './outlet-table.ts';
import { PipeSizes } from './pipe-sizes.ts';

/** How a link behaves at the moment. */
export const STATE = {
  pipe: 1,
  /** Loss by curve, or hardly any; the link passes water both ways. */
  open: 2,
  closed: 3,
  /** Regulator that holds the head at its outlet. */
  holding: 4,
} as const;

/** Who sets the head of a node. */
export const HEAD = {
  free: 0,
  fixed: 1,
  /** Held by a regulator, for as long as it is in the state `holding`. */
  regulated: 2,
} as const;

/**
 * Structure and numbers of one solve. Arrays go by position of node, link or outlet in the order of elimination;
 * parts that no water can reach have none. Nothing is allocated while iterating.
 */
export interface Workspace {
  /** The network that the numbers here are of; replaced when the structure serves again. */
  network: Network;
  examined: Examined;
  readonly graph: Graph;
  readonly ordering: Ordering;
  /** Positions of the links that may change their state: regulators and checks. */
  readonly valves: readonly number[];
  /** Regulators that water could pass backwards only, by index in the network. */
  readonly backward: readonly number[];
  readonly sizes: PipeSizes;
  readonly outletTable: OutletTable;

  /** By link of the network: position, -1 for none. */
  readonly linkPosition: Int32Array;
  /** As in the ordering; flows count from owner to other. */
  readonly owner: Int32Array;
  readonly other: Int32Array;
  readonly turned: Uint8Array;
  /** Positions of nodes, each after the one from which water comes to it; and the link by which, -1 for held heads. */
  readonly wayOrder: Int32Array;
  readonly wayLink: Int32Array;

  readonly linkState: Uint8Array;
  readonly headState: Uint8Array;
  readonly head: Float64Array;
  readonly flow: Float64Array;

  /**
   * Conductance of a link, m2/s, and how much its heads miss its loss, m; while a regulator holds, by how much its flow
   * is to change, m3/s.
   */
  readonly conductance: Float64Array;
  readonly miss: Float64Array;

  /** The equations, eliminated; see `factor.ts`. The right side is brought forward. */
  readonly mutual: Float64Array;
  readonly ground: Float64Array;
  readonly pivotInverse: Float64Array;
  readonly rightSide: Float64Array;
  readonly headStep: Float64Array;
  /** Flows before they were moved last. */
  readonly flowBefore: Float64Array;
  /** While evaluating: inflow less outflow at a node so far, m3/s; then, where a regulator holds, what it has to meet. */
  readonly imbalance: Float64Array;
  /** How far heads and flows were from an answer when the equations were last set up. */
  readonly measure: Measure;
  /** Shared by all workspaces with these arrays. */
  readonly holds: {
    /** The answer that they hold now. */
    solution: Solution | null;
    /** Whether the eliminated equations are those of that answer. */
    eliminated: boolean;
  };
}

/** How far heads and flows are from an answer. */
export interface Measure {
  /** Sum and largest of what the heads miss along links, m. */
  missSumM: number;
  missMaxM: number;
  /** Largest flow that the missing heads would drive, m3/s; what rounding of heads alone would drive is left aside. */
  missFlowM3s: number;
  /** Sum and largest of what nodes gain or lose, m3/s. */
  imbalanceSumM3s: number;
  imbalanceMaxM3s: number;
  /** Sum of what leaves through outlets, m3/s. */
  outflowM3s: number;
  /** Outlets that give nothing. */
  idleOutlets: number;
}

/** Positions of the ends of a link in its own direction. */
export function upstream(w: Workspace, p: number): number {
  return w.turned[p] === 1 ? w.other[p]! : w.owner[p]!;
}
export function downstream(w: Workspace, p: number): number {
  return w.turned[p] === 1 ? w.owner[p]! : w.other[p]!;
}

/** Whether the structure of `previous` serves again: ends, usable parts and held heads are the same. */
function sameStructure(previous: Workspace, network: Network, examined: Examined): boolean {
  const { links, nodes, outlets } = network;
  const before = previous.network;
  return (
    before.nodes.count === nodes.count &&
    before.outlets.count === outlets.count &&
    same(before.links.from, links.from) &&
    same(before.links.to, links.to) &&
    same(before.links.kind, links.kind) &&
    same(previous.examined.linkOk, examined.linkOk) &&
    same(previous.examined.nodeFixed, examined.nodeFixed)
  );
}

function same(a: Int32Array | Uint8Array, b: Int32Array | Uint8Array): boolean {
  if (a === b) return true;
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}

/** Checks the network and makes ready all that does not change while iterating; takes over what it can. */
export function prepare(network: Network, previous: Workspace | undefined): Workspace {
  const examined = examine(network, previous && { network: previous.network, examined: previous.examined });
  if (previous && sameStructure(previous, network, examined)) {
    previous.sizes.read(network.links, previous.ordering.linkAt, examined.viscosityM2s);
    const w = previous;
    const newOutlets = w.network.outlets !== network.outlets || w.network.nodes !== network.nodes;
    w.network = network;
    w.examined = examined;
    if (newOutlets) readOutlets(w.outletTable, network, examined.outletOk, w.ordering);
    return w;
  }
  const { nodes, links, outlets } = network;
  const graph = buildGraph(nodes.count, links, examined.linkOk, examined.nodeFixed);
  const free = new Uint8Array(nodes.count);
  for (const v of graph.order) free[v] = 1 - examined.nodeFixed[v]!;
  const ordering = buildOrdering(graph, links, free);
  const reached = ordering.sequence.length;
  const linkCount = ordering.linkAt.length;
  const byNode = () => new Float64Array(reached);
  const byLink = () => new Float64Array(linkCount);
  const sizes = new PipeSizes(linkCount);
  sizes.read(links, ordering.linkAt, examined.viscosityM2s);
  const outletTable = buildOutletTable(reached, outlets.count);
  readOutlets(outletTable, network, examined.outletOk, ordering);
  const ends = readEnds(network, graph, ordering);
  const headState = new Uint8Array(reached);
  headState.fill(HEAD.fixed, ordering.free);
  return {
    network,
    examined,
    graph,
    ordering,
    sizes,
    outletTable,
    ...ends,
    owner: ordering.owner,
    other: ordering.other,
    turned: ordering.turned,
    headState,
    head: byNode(),
    flow: byLink(),
    conductance: byLink(),
    miss: byLink(),
    mutual: new Float64Array(ordering.later.length),
    ground: byNode(),
    pivotInverse: byNode(),
    rightSide: byNode(),
    headStep: byNode(),
    flowBefore: byLink(),
    imbalance: byNode(),
    measure: {
      missSumM: 0,
      missMaxM: 0,
      missFlowM3s: 0,
      imbalanceSumM3s: 0,
      imbalanceMaxM3s: 0,
      outflowM3s: 0,
      idleOutlets: 0,
    },
    holds: { solution: null, eliminated: false },
  };
}

type Ends = Pick<Workspace, 'linkPosition' | 'wayOrder' | 'wayLink' | 'linkState' | 'valves' | 'backward'>;

/** Positions and lasting states of the links, and the ways of the water. */
function readEnds({ links }: Network, graph: Graph, ordering: Ordering): Ends {
  const { linkAt, position, sequence } = ordering;
  const linkPosition = new Int32Array(links.count).fill(-1);
  const linkState = new Uint8Array(linkAt.length).fill(STATE.pipe);
  const valves: number[] = [];
  for (let p = 0; p < linkAt.length; p++) {
    const l = linkAt[p]!;
    linkPosition[l] = p;
    const kind = links.kind[l]!;
    if (kind === LINK.pipe) continue;
    linkState[p] = STATE.open;
    if (kind !== LINK.loss) valves.push(p);
  }
  // In the order of the network, which decides between valves that answer to each other.
  valves.sort((p, q) => linkAt[p]! - linkAt[q]!);
  const backward: number[] = [];
  if (linkAt.length < links.count) {
    for (let l = 0; l < links.count; l++) {
      if (links.kind[l] !== LINK.regulator || linkPosition[l] !== -1) continue;
      // Links that cannot be used may have no ends.
      if (position[links.from[l]!] === -1 && (position[links.to[l]!] ?? -1) >= 0) backward.push(l);
    }
  }
  const wayOrder = new Int32Array(sequence.length);
  const wayLink = new Int32Array(sequence.length);
  for (let i = 0; i < wayOrder.length; i++) {
    const v = graph.order[i]!;
    const k = position[v]!;
    const l = graph.reachedBy[v]!;
    wayOrder[i] = k;
    wayLink[k] = l < 0 ? -1 : linkPosition[l]!;
  }
  return { linkPosition, wayOrder, wayLink, linkState, valves, backward };
}
