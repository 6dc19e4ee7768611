import { LINK } from './network.ts';
import { lossNow, openingHead } from './part-loss.ts';
import { downstream, HEAD, STATE, upstream, type Workspace } from './workspace.ts';

/** A valve changes its state only when heads or flows speak against it by more than this, m and m3/s. */
const HEAD_BAND_M = 1e-6;
const FLOW_BAND_M3S = 1e-10;

/** Head that a regulator holds at its outlet, m; Infinity where the outlet has no level (it then only passes water). */
export function targetHead(w: Workspace, p: number): number {
  const { links, nodes } = w.network;
  const l = w.ordering.linkAt[p]!;
  const head = nodes.elevationM[links.to[l]!]! + links.settingM[l]!;
  return Number.isFinite(head) ? head : Infinity;
}

/** Puts a valve into a state, with head and flow to suit. */
export function setState(w: Workspace, p: number, state: number): void {
  const j = downstream(w, p);
  if (w.linkState[p] === STATE.holding && w.headState[j] === HEAD.regulated) w.headState[j] = HEAD.free;
  w.linkState[p] = state;
  if (state === STATE.closed) w.flow[p] = 0;
  if (state === STATE.holding) {
    w.headState[j] = HEAD.regulated;
    w.head[j] = targetHead(w, p);
    w.headStep[j] = 0;
  }
}

/** The regulator that holds position `j`; -1 for none. */
function holderOf(w: Workspace, j: number): number {
  for (const p of w.valves) if (w.linkState[p] === STATE.holding && downstream(w, p) === j) return p;
  return -1;
}

/** Whether regulator `p` may hold its outlet; puts aside a second one there that would hold less. */
function takeHold(w: Workspace, p: number): boolean {
  const j = downstream(w, p);
  if (w.headState[j] === HEAD.fixed || targetHead(w, p) === Infinity) return false;
  const other = holderOf(w, j);
  if (other === -1) return true;
  if (targetHead(w, other) >= targetHead(w, p)) return false;
  setState(w, other, STATE.closed);
  return true;
}

/** The state that heads and flows ask for. */
function wantedState(w: Workspace, p: number): number {
  const now = w.linkState[p]!;
  const above = w.head[upstream(w, p)]!;
  const below = w.head[downstream(w, p)]!;
  const sense = w.turned[p] === 1 ? -1 : 1;
  if (now !== STATE.closed && sense * w.flow[p]! < -FLOW_BAND_M3S) return STATE.closed;
  if (w.network.links.kind[w.ordering.linkAt[p]!] === LINK.check) {
    return now === STATE.closed && above > below + openingHead(w, p) + HEAD_BAND_M ? STATE.open : now;
  }
  const target = targetHead(w, p);
  if (now === STATE.holding) {
    // A flow within the band around zero is not worth the loss curve.
    return above - sense * lossNow(w, p) < target - HEAD_BAND_M ? STATE.open : now;
  }
  if (now === STATE.open) {
    if (below <= target + HEAD_BAND_M) return now;
    return takeHold(w, p) ? STATE.holding : STATE.closed;
  }
  if (above > below + HEAD_BAND_M && below < target - HEAD_BAND_M) {
    return above > target && takeHold(w, p) ? STATE.holding : STATE.open;
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
  for (const p of w.valves) {
    if (single && changed > 0) break;
    const left = flipsLeft.get(p)!;
    if (left <= 0) continue;
    const state = wantedState(w, p);
    if (state === w.linkState[p]) continue;
    setState(w, p, state);
    flipsLeft.set(p, left - 1);
    changed++;
    if (state === STATE.closed) closed = true;
  }
  if (closed) keepFed(w);
  return changed;
}

/** Opens a regulator that cannot hold, since what it lets through comes back to its inlet; false when none is left. */
export function releaseOne(w: Workspace, flipsLeft: Map<number, number>): boolean {
  for (const p of w.valves) {
    const left = flipsLeft.get(p)!;
    if (w.linkState[p] !== STATE.holding || left <= 0) continue;
    setState(w, p, STATE.open);
    flipsLeft.set(p, left - 1);
    return true;
  }
  return false;
}

/** Opens closed valves again where otherwise a part would be cut off from every source: its outlets draw on them. */
function keepFed(w: Workspace): void {
  const { start, incident } = w.graph;
  const { sequence } = w.ordering;
  const { headState, linkPosition, owner, other } = w;
  const fed = new Uint8Array(sequence.length);
  const queue: number[] = [];
  const reach = (k: number) => {
    if (fed[k] === 1) return;
    fed[k] = 1;
    queue.push(k);
  };
  for (let k = 0; k < headState.length; k++) if (headState[k] !== HEAD.free) reach(k);
  const shut = w.valves.filter((p) => w.linkState[p] === STATE.closed);
  for (;;) {
    while (queue.length > 0) {
      const k = queue.pop()!;
      const v = sequence[k]!;
      for (let i = start[v]!; i < start[v + 1]!; i++) {
        const p = linkPosition[incident[i]!]!;
        if (p < 0) continue;
        const state = w.linkState[p];
        if (state === STATE.pipe || state === STATE.open) reach(owner[p] === k ? other[p]! : owner[p]!);
      }
    }
    const next = shut.find((p) => fed[upstream(w, p)] === 1 && fed[downstream(w, p)] === 0);
    if (next === undefined) return;
    setState(w, next, STATE.open);
    reach(downstream(w, next));
  }
}

/** Gives every valve its first state from the heads and flows at hand. */
export function firstStates(w: Workspace): void {
  for (const p of w.valves) {
    const j = downstream(w, p);
    const above = w.head[upstream(w, p)]!;
    const below = w.head[j]!;
    const onWay = w.wayLink[j] === p;
    if (w.network.links.kind[w.ordering.linkAt[p]!] === LINK.check) {
      setState(w, p, onWay || above >= below ? STATE.open : STATE.closed);
      continue;
    }
    const target = targetHead(w, p);
    if (!onWay && below > target + HEAD_BAND_M) setState(w, p, STATE.closed);
    else if (above > target && takeHold(w, p)) setState(w, p, STATE.holding);
    else setState(w, p, onWay || above >= below ? STATE.open : STATE.closed);
  }
}
