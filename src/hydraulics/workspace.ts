import { LINK, type Network, type Solution } from './network.ts';
import { examine, type Examined } from './examine.ts';
import { buildGraph, type Graph } from './graph.ts';
import { buildOrdering, type Ordering } from './ordering.ts';
import { PipeSizes } from './pipe-sizes.ts';

/** How a link behaves at the moment. */
export const STATE = {
  /** Left out, or without a way to a source. */
  out: 0,
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
  /** No way to a source. */
  unreached: 3,
} as const;

/** Structure and numbers of one solve. Arrays are by node or by link of the network; nothing is allocated while iterating. */
export interface Workspace {
  readonly network: Network;
  readonly examined: Examined;
  readonly graph: Graph;
  readonly ordering: Ordering;
  /** Links that may change their state: regulators and checks. */
  readonly valves: readonly number[];
  readonly sizes: PipeSizes;

  readonly linkState: Uint8Array;
  readonly headState: Uint8Array;
  readonly head: Float64Array;
  readonly flow: Float64Array;

  /** Level of an outlet, m; NaN where it is closed or has no source. */
  readonly outletLevel: Float64Array;
  readonly outletFlow: Float64Array;

  /** Conductance of a link, m2/s, and how much its heads miss its loss, m. */
  readonly conductance: Float64Array;
  readonly miss: Float64Array;

  /** By slot: conductance between two free nodes. */
  readonly mutual: Float64Array;
  /** Conductance of a node to heads that do not move, and to outlets. */
  readonly ground: Float64Array;
  readonly rightSide: Float64Array;
  readonly pivotInverse: Float64Array;
  readonly headStep: Float64Array;
  readonly flowStep: Float64Array;
  /** Inflow less outflow at a node, m3/s. */
  readonly imbalance: Float64Array;
  /** How far heads and flows were from an answer when the equations were last set up. */
  readonly measure: Measure;
  /** Shared by all workspaces with these arrays: the answer that they hold now, with the equations set up for it. */
  readonly holds: { solution: Solution | null };
}

/** How far heads and flows are from an answer. */
export interface Measure {
  /** Sum and largest of what the heads miss along links, m. */
  missSumM: number;
  missMaxM: number;
  /** Largest flow that the missing heads would drive, m3/s; what rounding of heads alone would drive is left aside. */
  missFlowM3s: number;
  /** Sum of what nodes gain or lose, m3/s. */
  imbalanceSumM3s: number;
  /** Sum of what leaves through outlets, m3/s. */
  outflowM3s: number;
  /** Outlets that give nothing. */
  idleOutlets: number;
}

/** The structure of `previous` serves again when ends, usable parts and held heads are the same. */
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
    previous.sizes.read(network.links, examined.linkOk, examined.viscosityM2s);
    const w = { ...previous, network, examined };
    if (previous.network.outlets !== network.outlets || previous.network.nodes !== network.nodes)
      readOutlets(w);
    return w;
  }
  const { nodes, links, outlets } = network;
  const graph = buildGraph(nodes.count, links, examined.linkOk, examined.nodeFixed);
  const free = new Uint8Array(nodes.count);
  for (const v of graph.order) free[v] = 1 - examined.nodeFixed[v]!;
  const ordering = buildOrdering(graph, links, free);
  const valves: number[] = [];
  for (let l = 0; l < links.count; l++) {
    const kind = links.kind[l]!;
    if (examined.linkOk[l] === 1 && (kind === LINK.regulator || kind === LINK.check)) valves.push(l);
  }
  const byNode = () => new Float64Array(nodes.count);
  const byLink = () => new Float64Array(links.count);
  const sizes = new PipeSizes(links.count);
  sizes.read(links, examined.linkOk, examined.viscosityM2s);
  const w: Workspace = {
    network,
    examined,
    graph,
    ordering,
    valves,
    sizes,
    linkState: new Uint8Array(links.count),
    headState: new Uint8Array(nodes.count),
    head: byNode(),
    flow: byLink(),
    outletLevel: new Float64Array(outlets.count),
    outletFlow: new Float64Array(outlets.count),
    conductance: byLink(),
    miss: byLink(),
    mutual: new Float64Array(ordering.later.length),
    ground: byNode(),
    rightSide: byNode(),
    pivotInverse: byNode(),
    headStep: byNode(),
    flowStep: byLink(),
    imbalance: byNode(),
    measure: { missSumM: 0, missMaxM: 0, missFlowM3s: 0, imbalanceSumM3s: 0, outflowM3s: 0, idleOutlets: 0 },
    holds: { solution: null },
  };
  readStates(w);
  readOutlets(w);
  return w;
}

/** States that hold throughout: held heads, parts without source, pipes. Valves are seen to at the start of a solve. */
function readStates(w: Workspace): void {
  const { nodes, links } = w.network;
  const { linkOk, nodeFixed } = w.examined;
  const { reachedBy } = w.graph;
  for (let v = 0; v < nodes.count; v++) {
    w.headState[v] = reachedBy[v] === -2 ? HEAD.unreached : nodeFixed[v] === 1 ? HEAD.fixed : HEAD.free;
  }
  for (let l = 0; l < links.count; l++) {
    const usable = linkOk[l] === 1 && reachedBy[links.from[l]!] !== -2 && reachedBy[links.to[l]!] !== -2;
    w.linkState[l] = !usable ? STATE.out : links.kind[l] === LINK.pipe ? STATE.pipe : STATE.open;
  }
}

function readOutlets(w: Workspace): void {
  const { nodes, outlets } = w.network;
  const { reachedBy } = w.graph;
  for (let k = 0; k < outlets.count; k++) {
    const v = outlets.node[k]!;
    const closed = w.examined.outletOk[k] === 0 || reachedBy[v] === -2;
    w.outletLevel[k] = closed ? NaN : nodes.elevationM[v]! + outlets.riseM[k]!;
  }
}
