import { evaluateCurve } from './curve.ts';
import { evaluateOutlet, NEAR_ZERO_M } from './outlet.ts';
import { HEAD, STATE, type Measure, type Workspace } from './workspace.ts';

/** Slope of the loss of a link without stated loss, s/m2: a thousandth of a millimetre at 1 L/s. */
export const OPEN_SLOPE = 1e-3;
/** Conductance of a closed link, m2/s: it keeps the equations whole. Reported as no flow. */
export const CLOSED_CONDUCTANCE = 1e-18;

/** What rounding can make of the difference of two heads, with room to spare, m. */
const ROUNDING_M = 1e-12;

const out = new Float64Array(2);

/** Loss (m) and slope (s/m2) of an open link that is not a pipe, to `to[0]` and `to[1]`. */
function evaluatePart(w: Workspace, l: number, flowM3s: number, to: Float64Array): void {
  const index = w.network.links.curve[l]!;
  const curve = index >= 0 ? w.examined.curves[index] : null;
  if (curve) evaluateCurve(curve, flowM3s, to);
  else to.fill(0);
  to[0]! += OPEN_SLOPE * flowM3s;
  to[1]! += OPEN_SLOPE;
}

/** Head lost in an open or holding link at its present flow, m. */
export function lossNow(w: Workspace, l: number): number {
  if (w.linkState[l] === STATE.pipe) w.sizes.lossAt(l, w.flow[l]!, out);
  else evaluatePart(w, l, w.flow[l]!, out);
  return out[0]!;
}

/** Conductance of an open link, m2/s, and how much the heads at its ends miss its loss, m: to `out[0]` and `out[1]`. */
function lookAt(w: Workspace, l: number): void {
  const { from, to } = w.network.links;
  if (w.linkState[l] === STATE.pipe) w.sizes.lossAt(l, w.flow[l]!, out);
  else evaluatePart(w, l, w.flow[l]!, out);
  const gap = w.head[from[l]!]! - w.head[to[l]!]! - out[0]!;
  out[0] = 1 / out[1]!;
  out[1] = gap;
}

/** Brings equations that stand up to date after a change of pipe `l`. */
export function evaluateAgain(w: Workspace, l: number): void {
  const { headState, rightSide, ground, mutual, measure } = w;
  const a = w.network.links.from[l]!;
  const b = w.network.links.to[l]!;
  lookAt(w, l);
  const c = out[0]!;
  const gap = out[1]!;
  const push = c * gap - w.conductance[l]! * w.miss[l]!;
  const more = c - w.conductance[l]!;
  rightSide[a]! -= push;
  rightSide[b]! += push;
  if (headState[a] === HEAD.free) {
    if (headState[b] === HEAD.free) mutual[w.ordering.linkSlot[l]!]! += more;
    else ground[a]! += more;
  } else if (headState[b] === HEAD.free) ground[b]! += more;
  w.conductance[l] = c;
  w.miss[l] = gap;
  const size = Math.abs(gap);
  measure.missSumM += size;
  measure.missMaxM = Math.max(measure.missMaxM, size);
  measure.missFlowM3s = Math.max(measure.missFlowM3s, c * (size - ROUNDING_M));
}

/**
 * Measures the present heads and flows and sets up the linear equations of Newton's step from them: the global
 * gradient method of Todini and Pilati (1988), written for changes of heads and flows, with the outlets as flows that
 * follow the head of their node.
 * @param move also moves the flows by the whole step that `findStep` has found; heads have been moved by then.
 */
export function evaluate(w: Workspace, move: boolean): void {
  const { measure } = w;
  w.mutual.fill(0);
  w.ground.fill(0);
  w.rightSide.fill(0);
  w.imbalance.fill(0);
  measure.idleOutlets = 0;
  addLinks(w, measure, move);
  measure.outflowM3s = addOutlets(w);
  measure.imbalanceSumM3s = addImbalance(w);
}

// The loops over all links or nodes stand in functions of their own, here and elsewhere: the compiler then keeps each
// one compiled instead of dropping a long function again and again at its first rare branch.

function addLinks(w: Workspace, measure: Measure, move: boolean): void {
  const { head, flow, linkState, headState, conductance, miss, mutual, ground, rightSide, imbalance } = w;
  const { headStep, flowStep, sizes } = w;
  const { from, to } = w.network.links;
  const { linkSlot } = w.ordering;
  // Without such, two free nodes are at the ends of every link that has a slot.
  const holding = w.valves.some((l) => linkState[l] === STATE.holding);
  let missSum = 0;
  let missMax = 0;
  let missFlow = 0;
  for (let l = 0; l < flow.length; l++) {
    const state = linkState[l]!;
    if (state === STATE.out) continue;
    const a = from[l]!;
    const b = to[l]!;
    let q = flow[l]!;
    if (move) {
      if (state !== STATE.holding) {
        flowStep[l] = (miss[l]! + headStep[a]! - headStep[b]!) * conductance[l]!;
      }
      q += flowStep[l]!;
      flow[l] = q;
    }
    imbalance[a]! -= q;
    imbalance[b]! += q;
    if (state === STATE.holding) continue;
    let gap = head[a]! - head[b]!;
    let c: number;
    if (state === STATE.closed) {
      c = CLOSED_CONDUCTANCE;
      gap -= q / c;
    } else {
      if (state === STATE.pipe) sizes.lossAt(l, q, out);
      else evaluatePart(w, l, q, out);
      gap -= out[0]!;
      c = 1 / out[1]!;
      const size = Math.abs(gap);
      missSum += size;
      if (size > missMax) missMax = size;
      const driven = c * (size - ROUNDING_M);
      if (driven > missFlow) missFlow = driven;
    }
    miss[l] = gap;
    conductance[l] = c;
    const push = c * gap;
    rightSide[a]! -= push;
    rightSide[b]! += push;
    const slot = linkSlot[l]!;
    if (slot >= 0 && !holding) {
      mutual[slot]! += c;
    } else if (headState[a] === HEAD.free) {
      if (headState[b] === HEAD.free) mutual[slot]! += c;
      else ground[a]! += c;
    } else if (headState[b] === HEAD.free) {
      ground[b]! += c;
    }
  }
  measure.missSumM = missSum;
  measure.missMaxM = missMax;
  measure.missFlowM3s = missFlow;
}

function addOutlets(w: Workspace): number {
  const { measure } = w;
  const { outlets } = w.network;
  const { node, coefficient, exponent, ratedM3s } = outlets;
  const { head, imbalance, ground, outletLevel, outletFlow } = w;
  let sum = 0;
  for (let k = 0; k < outletFlow.length; k++) {
    const v = node[k]!;
    // NaN where the outlet is closed or its node has no source.
    const h = head[v]! - outletLevel[k]!;
    let q: number;
    let slope: number;
    const rated = ratedM3s[k]!;
    if (h >= NEAR_ZERO_M && exponent[k] === 0.5 && rated !== rated) {
      q = coefficient[k]! * Math.sqrt(h);
      slope = (0.5 * q) / h;
    } else if (h > 0) {
      evaluateOutlet(outlets, k, h, out);
      q = out[0]!;
      slope = out[1]!;
    } else {
      outletFlow[k] = 0;
      measure.idleOutlets++;
      continue;
    }
    outletFlow[k] = q;
    imbalance[v]! -= q;
    ground[v]! += slope;
    sum += q;
  }
  return sum;
}

/** Puts the imbalance of nodes whose head may move on the right side; gives its sum. */
function addImbalance({ headState, imbalance, rightSide }: Workspace): number {
  let sum = 0;
  for (let v = 0; v < headState.length; v++) {
    if (headState[v] === HEAD.fixed) continue;
    const m = imbalance[v]!;
    sum += Math.abs(m);
    rightSide[v]! += m;
  }
  return sum;
}

/** Largest gain or loss of a node whose head is not fixed, m3/s. */
export function largestImbalance({ headState, imbalance }: Workspace): number {
  let max = 0;
  for (let v = 0; v < headState.length; v++) {
    const size = Math.abs(imbalance[v]!);
    if (size > max && headState[v] !== HEAD.fixed) max = size;
  }
  return max;
}
