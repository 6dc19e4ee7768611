import { eliminate } from './factor.ts';
import { evaluateOutlet, NEAR_ZERO_M } from './outlet.ts';
import { HEAD, STATE, type Workspace } from './workspace.ts';

/** What rounding can make of the difference of two heads, with room to spare, m. */
export const ROUNDING_M = 1e-12;

const out = new Float64Array(2);

/** What a regulated node gains is met by its regulator: kept for `findStep`; its own head does not move. */
function keepRest(w: Workspace, k: number): void {
  w.imbalance[k] = w.rightSide[k]!;
  w.rightSide[k] = 0;
  w.ground[k] = 1;
}

/**
 * Walks over the free nodes in the order of elimination: outlets, what links miss, measures, and the elimination, since
 * the numbers of a node are complete when those before it have been gone through. The eliminations of one and two
 * neighbours of `eliminate` are written out.
 */
export function walkFree(w: Workspace): void {
  const { head, flow, conductance, miss, linkState, headState, other, measure } = w;
  const { mutual, ground, rightSide, imbalance, pivotInverse } = w;
  const { outletStart, outletLevel, outletFactor, outletAt, outletFlow, rootLaw } = w.outletTable;
  const { outlets } = w.network;
  const { column, later, pair, pairSlot, linkStart, linkSlot, free } = w.ordering;
  const valved = w.valves.length > 0;
  // Without such, two free nodes are at the ends of every link that has a slot.
  const holding = w.valves.some((p) => linkState[p] === STATE.holding);
  let missSum = 0;
  let missMax = 0;
  let missFlow = 0;
  let outflow = 0;
  let idle = 0;
  let gainSum = 0;
  let gainMax = 0;
  let p = 0;
  let j = 0;
  let slot = 0;
  // What goes to the very next node, as along a run nearly all does, is handed on without a way through memory.
  let nextGain = 0;
  let nextRight = 0;
  let nextGround = 0;
  for (let k = 0; k < free; k++) {
    const here = head[k]!;
    let gain = imbalance[k]! + nextGain;
    let right = rightSide[k]! + nextRight;
    let toGround = ground[k]! + nextGround;
    nextGain = 0;
    nextRight = 0;
    nextGround = 0;

    for (const end = outletStart[k + 1]!; j < end; j++) {
      const h = here - outletLevel[j]!;
      let q = 0;
      if (h >= NEAR_ZERO_M && rootLaw[j] === 1) {
        q = outletFactor[j]! * Math.sqrt(h);
        toGround += (0.5 * q) / h;
      } else if (h > 0) {
        evaluateOutlet(outlets, outletAt[j]!, h, out);
        q = out[0]!;
        toGround += out[1]!;
      }
      if (q === 0) idle++;
      outletFlow[j] = q;
      gain -= q;
      outflow += q;
    }

    for (const end = linkStart[k + 1]!; p < end; p++) {
      const o = other[p]!;
      const q = flow[p]!;
      gain -= q;
      if (o === k + 1) nextGain += q;
      else imbalance[o]! += q;
      let counts = true;
      if (valved) {
        const state = linkState[p]!;
        if (state === STATE.holding) continue;
        counts = state !== STATE.closed;
      }
      const c = conductance[p]!;
      const gap = here - head[o]! - miss[p]!;
      miss[p] = gap;
      if (counts) {
        const off = gap < 0 ? -gap : gap;
        missSum += off;
        if (off > missMax) missMax = off;
        const driven = c * (off - ROUNDING_M);
        if (driven > missFlow) missFlow = driven;
      }
      const push = c * gap;
      right -= push;
      if (o === k + 1) nextRight += push;
      else rightSide[o]! += push;
      const at = linkSlot[p]!;
      if (!holding) {
        if (at >= 0) mutual[at]! += c;
        else toGround += c;
      } else if (headState[k] === HEAD.free) {
        if (headState[o] === HEAD.free) mutual[at]! += c;
        else toGround += c;
      } else if (headState[o] === HEAD.free) {
        ground[o]! += c;
      }
    }

    const off = gain < 0 ? -gain : gain;
    gainSum += off;
    if (off > gainMax) gainMax = off;
    right += gain;
    rightSide[k] = right;
    ground[k] = toGround;
    if (holding && headState[k] === HEAD.regulated) {
      keepRest(w, k);
      right = 0;
      toGround = 1;
    }

    const last = column[k + 1]!;
    if (last - slot === 1) {
      const c = mutual[slot]!;
      const inverse = 1 / (c + toGround);
      pivotInverse[k] = inverse;
      const share = c * inverse;
      const o = later[slot]!;
      if (o === k + 1) {
        nextGround = share * toGround;
        nextRight += share * right;
      } else {
        ground[o]! += share * toGround;
        rightSide[o]! += share * right;
      }
    } else if (last - slot === 2) {
      const c = mutual[slot]!;
      const d = mutual[slot + 1]!;
      const inverse = 1 / (c + d + toGround);
      pivotInverse[k] = inverse;
      const a = later[slot]!;
      const o = later[slot + 1]!;
      const shareC = c * inverse;
      const shareD = d * inverse;
      ground[a]! += shareC * toGround;
      rightSide[a]! += shareC * right;
      if (o === k + 1) {
        nextGround = shareD * toGround;
        nextRight += shareD * right;
      } else {
        ground[o]! += shareD * toGround;
        rightSide[o]! += shareD * right;
      }
      mutual[pairSlot[pair[k]!]!]! += shareC * d;
    } else {
      eliminate(w, k, rightSide);
    }
    slot = last;
  }
  measure.missSumM = missSum;
  measure.missMaxM = missMax;
  measure.missFlowM3s = missFlow;
  measure.imbalanceSumM3s = gainSum;
  measure.imbalanceMaxM3s = gainMax;
  measure.outflowM3s = outflow;
  measure.idleOutlets = idle;
}
