import { LINK, type Solution } from './network.ts';
import { evaluate, evaluateNodes } from './evaluate.ts';
import { evaluateLinks, evaluateValves } from './links.ts';
import { evaluateOutlet, NEAR_ZERO_M } from './outlet.ts';
import { firstStates, setState, targetHead } from './valves.ts';
import { HEAD, STATE, type Workspace } from './workspace.ts';

/** Without loops a second sweep costs less than the pass of Newton's method that it saves; with loops it saves none. */
const SWEEPS = { tree: 2, loops: 1 } as const;

const out = new Float64Array(2);

/** No node starts below this share of its standing pressure, however much its outlets would draw. */
const LEAST_SHARE = 0.2;

/** Valves pass water until their first state is found. */
function openValves(w: Workspace): void {
  for (const p of w.valves) setState(w, p, STATE.open);
}

/** Position from which water comes to position `k` by its way `p`. */
function before(w: Workspace, k: number, p: number): number {
  return w.owner[p] === k ? w.other[p]! : w.owner[p]!;
}

function isRegulator(w: Workspace, p: number): boolean {
  return w.linkState[p] !== STATE.pipe && w.network.links.kind[w.ordering.linkAt[p]!] === LINK.regulator;
}

/** Heads without flow: those of the sources, behind regulators at most what these hold. */
function standingHead(w: Workspace, k: number): number {
  const p = w.wayLink[k]!;
  if (p < 0) return w.network.nodes.fixedHeadM[w.ordering.sequence[k]!]!;
  const head = w.head[before(w, k, p)]!;
  return w.valves.length > 0 && isRegulator(w, p) ? Math.min(head, targetHead(w, p)) : head;
}

/** Starts from an earlier answer for a network with as many nodes and links, and evaluates. */
export function startWarm(w: Workspace, start: Solution): void {
  openValves(w);
  const { head, headState, flow, turned, wayOrder } = w;
  const { sequence, linkAt } = w.ordering;
  for (let i = 0; i < wayOrder.length; i++) {
    const k = wayOrder[i]!;
    const h = start.headM[sequence[k]!]!;
    head[k] = headState[k] === HEAD.fixed || h - h !== 0 ? standingHead(w, k) : h;
  }
  for (let p = 0; p < flow.length; p++) {
    const q = start.flowM3s[linkAt[p]!]!;
    flow[p] = q - q !== 0 ? 0 : turned[p] === 1 ? -q : q;
  }
  w.headStep.fill(0);
  firstStates(w);
  evaluate(w, false);
}

/**
 * Starts from nothing: standing heads; what the outlets would give under them, added up along the ways on which water
 * reaches the nodes; and the heads that these flows leave; then the same again from these heads. On branches this is
 * close to the answer. Then evaluates.
 */
export function startCold(w: Workspace): void {
  openValves(w);
  const { head, headStep: standing, wayOrder } = w;
  if (w.valves.length === 0 && wayOrder.length === w.ordering.free + 1) {
    // One source, and nothing between.
    head.fill(standingHead(w, w.ordering.free));
  } else {
    for (let i = 0; i < wayOrder.length; i++) head[wayOrder[i]!] = standingHead(w, wayOrder[i]!);
  }
  standing.set(head);
  const sweeps = w.ordering.pairSlot.length === 0 ? SWEEPS.tree : SWEEPS.loops;
  for (let sweep = 0; sweep < sweeps; sweep++) {
    sumDemands(w);
    followLosses(w);
  }
  standing.fill(0);
  firstStates(w);
  evaluateValves(w);
  evaluateNodes(w);
}

/** Flows on the ways to the nodes when every outlet gives what the present heads ask for. */
function sumDemands(w: Workspace): void {
  const { wayOrder, wayLink, owner, other, head, flow, imbalance: demand } = w;
  const { outletStart, outletLevel, outletAt, rootLaw, outletFactor } = w.outletTable;
  const { outlets } = w.network;
  demand.fill(0);
  flow.fill(0);
  for (let i = wayOrder.length - 1; i >= 0; i--) {
    const k = wayOrder[i]!;
    const p = wayLink[k]!;
    if (p < 0) continue;
    const here = head[k]!;
    let need = demand[k]!;
    for (let j = outletStart[k]!, end = outletStart[k + 1]!; j < end; j++) {
      const h = here - outletLevel[j]!;
      if (h >= NEAR_ZERO_M && rootLaw[j] === 1) need += outletFactor[j]! * Math.sqrt(h);
      else if (h > 0) {
        evaluateOutlet(outlets, outletAt[j]!, h, out);
        need += out[0]!;
      }
    }
    if (owner[p] === k) {
      flow[p] = -need;
      demand[other[p]!]! += need;
    } else {
      flow[p] = need;
      demand[owner[p]!]! += need;
    }
  }
}

/** Heads that the present flows leave along the ways to the nodes. */
function followLosses(w: Workspace): void {
  evaluateLinks(w, false);
  const { wayOrder, wayLink, owner, other, head, miss: loss, headStep: standing } = w;
  const { elevationM } = w.network.nodes;
  const { sequence } = w.ordering;
  const regulated = w.valves.length > 0;
  for (let i = 0; i < wayOrder.length; i++) {
    const k = wayOrder[i]!;
    const p = wayLink[k]!;
    if (p < 0) continue;
    let h = owner[p] === k ? head[other[p]!]! + loss[p]! : head[owner[p]!]! - loss[p]!;
    if (regulated && isRegulator(w, p)) h = Math.min(h, targetHead(w, p));
    const z = elevationM[sequence[k]!]!;
    const least = z + LEAST_SHARE * (standing[k]! - z);
    if (h < least && standing[k]! > z) h = least;
    head[k] = h;
  }
}
