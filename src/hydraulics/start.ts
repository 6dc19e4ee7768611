import { LINK, type Solution } from './network.ts';
import { lossNow } from './evaluate.ts';
import { evaluateOutlet } from './outlet.ts';
import { HEAD, STATE, type Workspace } from './workspace.ts';
import { firstStates, setState, targetHead } from './valves.ts';

/** A second sweep costs less than the pass of Newton's method that it saves. */
const SWEEPS = 2;

const out = new Float64Array(2);

/** No node starts below this share of its standing pressure, however much its outlets would draw. */
const LEAST_SHARE = 0.2;

/** Valves pass water until their first state is found. */
function openValves(w: Workspace): void {
  for (const l of w.valves) if (w.linkState[l] !== STATE.out) setState(w, l, STATE.open);
}

/** Heads without flow: those of the sources, behind regulators at most what these hold. */
function standingHead(w: Workspace, v: number): number {
  const { nodes, links } = w.network;
  const l = w.graph.reachedBy[v]!;
  if (l === -1) return nodes.fixedHeadM[v]!;
  const u = links.from[l] === v ? links.to[l]! : links.from[l]!;
  const head = w.head[u]!;
  return links.kind[l] === LINK.regulator ? Math.min(head, targetHead(w, l)) : head;
}

/** Starts from an earlier answer for a network with as many nodes and links. */
export function startWarm(w: Workspace, start: Solution): void {
  openValves(w);
  w.head.set(start.headM);
  w.flow.set(start.flowM3s);
  fitHeads(w);
  fitFlows(w);
  w.headStep.fill(0);
  firstStates(w);
}

function fitHeads(w: Workspace): void {
  const { order } = w.graph;
  const { head, headState } = w;
  for (let i = 0; i < order.length; i++) {
    const v = order[i]!;
    const h = head[v]!;
    if (headState[v] === HEAD.fixed || h - h !== 0) head[v] = standingHead(w, v);
  }
}

function fitFlows({ flow, linkState }: Workspace): void {
  for (let l = 0; l < flow.length; l++) {
    const q = flow[l]!;
    if (linkState[l] === STATE.out || q - q !== 0) flow[l] = 0;
  }
}

/**
 * Starts from nothing: standing heads; what the outlets would give under them, added up along the ways on which water
 * reaches the nodes; and the heads that these flows leave; then the same again from these heads. On branches this is
 * close to the answer.
 */
export function startCold(w: Workspace): void {
  openValves(w);
  const { order } = w.graph;
  const { head, headStep: standing } = w;
  for (let i = 0; i < order.length; i++) {
    const v = order[i]!;
    head[v] = standingHead(w, v);
    standing[v] = head[v]!;
  }
  for (let sweep = 0; sweep < SWEEPS; sweep++) {
    sumDemands(w);
    followLosses(w);
  }
  standing.fill(0);
  firstStates(w);
}

/** Flows on the ways to the nodes when every outlet gives what the present heads ask for. */
function sumDemands(w: Workspace): void {
  const { order, reachedBy } = w.graph;
  const { links, outlets } = w.network;
  const { head, flow, imbalance: demand, outletLevel } = w;
  demand.fill(0);
  flow.fill(0);
  for (let k = 0; k < outlets.count; k++) {
    const v = outlets.node[k]!;
    const h = head[v]! - outletLevel[k]!;
    if (!(h > 0)) continue;
    evaluateOutlet(outlets, k, h, out);
    demand[v]! += out[0]!;
  }
  for (let i = order.length - 1; i >= 0; i--) {
    const v = order[i]!;
    const l = reachedBy[v]!;
    if (l < 0) continue;
    const need = demand[v]!;
    if (links.to[l] === v) {
      flow[l] = need;
      demand[links.from[l]!]! += need;
    } else {
      flow[l] = -need;
      demand[links.to[l]!]! += need;
    }
  }
}

/** Heads that the present flows leave along the ways to the nodes. */
function followLosses(w: Workspace): void {
  const { order, reachedBy } = w.graph;
  const { nodes, links } = w.network;
  const { head, headStep: standing } = w;
  for (let i = 0; i < order.length; i++) {
    const v = order[i]!;
    const l = reachedBy[v]!;
    if (l < 0) continue;
    let h = links.to[l] === v ? head[links.from[l]!]! - lossNow(w, l) : head[links.to[l]!]! + lossNow(w, l);
    if (links.kind[l] === LINK.regulator) h = Math.min(h, targetHead(w, l));
    const z = nodes.elevationM[v]!;
    const least = z + LEAST_SHARE * (standing[v]! - z);
    if (h < least && standing[v]! > z) h = least;
    head[v] = h;
  }
}
