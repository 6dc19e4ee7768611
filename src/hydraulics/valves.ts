import { LINK } from './network.ts';
import { lossNow } from './evaluate.ts';
import { HEAD, STATE, type Workspace } from './workspace.ts';

/** A valve changes its state only when heads or flows speak against it by more than this, m and m3/s. */
const HEAD_BAND_M = 1e-6;
const FLOW_BAND_M3S = 1e-10;

/** Head that a regulator holds at its outlet, m; Infinity where the outlet has no level (it then only passes water). */
export function targetHead(w: Workspace, l: number): number {
  const { links, nodes } = w.network;
  const head = nodes.elevationM[links.to[l]!]! + links.settingM[l]!;
  return Number.isFinite(head) ? head : Infinity;
}

/** Puts a valve into a state, with head and flow to suit. */
export function setState(w: Workspace, l: number, state: number): void {
  const j = w.network.links.to[l]!;
  if (w.linkState[l] === STATE.holding && w.headState[j] === HEAD.regulated) w.headState[j] = HEAD.free;
  w.linkState[l] = state;
  if (state === STATE.closed) w.flow[l] = 0;
  if (state === STATE.holding) {
    w.headState[j] = HEAD.regulated;
    w.head[j] = targetHead(w, l);
    w.headStep[j] = 0;
  }
}

/** The regulator that holds node `j`; -1 for none. */
function holderOf(w: Workspace, j: number): number {
  for (const l of w.valves) if (w.linkState[l] === STATE.holding && w.network.links.to[l] === j) return l;
  return -1;
}

/** Whether regulator `l` may hold its outlet; puts aside a second one there that would hold less. */
function takeHold(w: Workspace, l: number): boolean {
  const j = w.network.links.to[l]!;
  if (w.headState[j] === HEAD.fixed || targetHead(w, l) === Infinity) return false;
  const other = holderOf(w, j);
  if (other === -1) return true;
  if (targetHead(w, other) >= targetHead(w, l)) return false;
  setState(w, other, STATE.closed);
  return true;
}

/** The state that heads and flows ask for. */
function wantedState(w: Workspace, l: number): number {
  const { from, to, kind } = w.network.links;
  const now = w.linkState[l]!;
  const above = w.head[from[l]!]!;
  const below = w.head[to[l]!]!;
  if (now !== STATE.closed && w.flow[l]! < -FLOW_BAND_M3S) return STATE.closed;
  if (kind[l] === LINK.check) {
    return now === STATE.closed && above > below + HEAD_BAND_M ? STATE.open : now;
  }
  const target = targetHead(w, l);
  if (now === STATE.holding) {
    // A flow within the band around zero is not worth the loss curve.
    const loss = lossNow(w, l);
    return above - loss < target - HEAD_BAND_M ? STATE.open : now;
  }
  if (now === STATE.open) {
    if (below <= target + HEAD_BAND_M) return now;
    return takeHold(w, l) ? STATE.holding : STATE.closed;
  }
  if (above > below + HEAD_BAND_M && below < target - HEAD_BAND_M) {
    return above > target && takeHold(w, l) ? STATE.holding : STATE.open;
  }
  return now;
}

/**
 * Puts valves into the state that heads and flows ask for, each at most as often as `flipsLeft` allows; gives how
 * many have changed.
 * @param single changes one valve at most: valves that answer to each other may else change to and fro together.
 */
export function adjustValves(w: Workspace, flipsLeft: Map<number, number>, single: boolean): number {
  let changed = 0;
  let closed = false;
  for (const l of w.valves) {
    if (single && changed > 0) break;
    if (w.linkState[l] === STATE.out) continue;
    const left = flipsLeft.get(l)!;
    if (left <= 0) continue;
    const state = wantedState(w, l);
    if (state === w.linkState[l]) continue;
    setState(w, l, state);
    flipsLeft.set(l, left - 1);
    changed++;
    if (state === STATE.closed) closed = true;
  }
  if (closed) keepFed(w);
  return changed;
}

/** Opens a regulator that cannot hold, since what it lets through comes back to its inlet; false when none is left. */
export function releaseOne(w: Workspace, flipsLeft: Map<number, number>): boolean {
  for (const l of w.valves) {
    const left = flipsLeft.get(l)!;
    if (w.linkState[l] !== STATE.holding || left <= 0) continue;
    setState(w, l, STATE.open);
    flipsLeft.set(l, left - 1);
    return true;
  }
  return false;
}

/** Opens closed valves again where otherwise a part would be cut off from every source: its outlets draw on them. */
function keepFed(w: Workspace): void {
  const { start, incident, order, nodeCount } = w.graph;
  const { from, to } = w.network.links;
  const fed = new Uint8Array(nodeCount);
  const queue: number[] = [];
  const reach = (v: number) => {
    if (fed[v] === 1) return;
    fed[v] = 1;
    queue.push(v);
  };
  for (const v of order) if (w.headState[v] === HEAD.fixed || w.headState[v] === HEAD.regulated) reach(v);
  const shut = w.valves.filter((l) => w.linkState[l] === STATE.closed);
  for (;;) {
    while (queue.length > 0) {
      const v = queue.pop()!;
      for (let p = start[v]!; p < start[v + 1]!; p++) {
        const l = incident[p]!;
        const state = w.linkState[l];
        if (state === STATE.pipe || state === STATE.open) reach(from[l] === v ? to[l]! : from[l]!);
      }
    }
    const next = shut.find((l) => fed[from[l]!] === 1 && fed[to[l]!] === 0);
    if (next === undefined) return;
    setState(w, next, STATE.open);
    reach(to[next]!);
  }
}

/** Gives every valve its first state from the heads and flows at hand. */
export function firstStates(w: Workspace): void {
  const { from, to, kind } = w.network.links;
  for (const l of w.valves) {
    if (w.linkState[l] === STATE.out) continue;
    const above = w.head[from[l]!]!;
    const below = w.head[to[l]!]!;
    const onWay = w.graph.reachedBy[to[l]!] === l;
    if (kind[l] === LINK.check) {
      setState(w, l, onWay || above >= below ? STATE.open : STATE.closed);
      continue;
    }
    const target = targetHead(w, l);
    if (!onWay && below > target + HEAD_BAND_M) setState(w, l, STATE.closed);
    else if (above > target && takeHold(w, l)) setState(w, l, STATE.holding);
    else setState(w, l, onWay || above >= below ? STATE.open : STATE.closed);
  }
}
