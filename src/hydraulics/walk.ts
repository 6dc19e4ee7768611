import { eliminate } from './factor.ts';
import { LAMINAR_RE, TURBULENT_RE } from './friction.ts';
import { evaluateOutlet, NEAR_ZERO_M } from './outlet.ts';
import { lookAtPart } from './part-loss.ts';
import {
  CUBIC,
  CUTS,
  CUTS_PER_RE,
  LAMINAR,
  LOCAL,
  NO_FACTORS,
  PER_REYNOLDS,
  SQUARE,
  STRIDE,
} from './pipe-sizes.ts';
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
 * The walk of `evaluate` over the free nodes: outlets, links, measures, elimination, each number touched once. The
 * solver spends most of its time here, so the friction law of `PipeSizes.lossAt` and the eliminations of one and two
 * neighbours of `eliminate` are written out.
 */
export function walkFree(w: Workspace, move: boolean): void {
  const { head, flow, headStep, conductance, miss, linkState, headState, other, sizes, measure } = w;
  const { mutual, ground, rightSide, imbalance, pivotInverse } = w;
  const { outletStart, outletLevel, outletFactor, outletAt, outletFlow, rootLaw } = w.outletTable;
  const { outlets } = w.network;
  const { column, later, pair, pairSlot, linkStart, linkSlot, free } = w.ordering;
  const { lengthM, lossK, size: sizeOf } = sizes;
  const constants = sizes.constants;
  // Without such, two free nodes are at the ends of every link that has a slot.
  const holding = w.valves.some((p) => linkState[p] === STATE.holding);
  let missSum = 0;
  let missMax = 0;
  let missFlow = 0;
  let outflow = 0;
  let idle = 0;
  let gainSum = 0;
  let gainMax = 0;
  let size = -1;
  let perReynolds = 0;
  let laminar = 0;
  let square = 0;
  let c0 = 0;
  let c1 = 0;
  let c2 = 0;
  let c3 = 0;
  let factors: Float64Array = NO_FACTORS;
  let p = 0;
  let j = 0;
  let slot = 0;
  for (let k = 0; k < free; k++) {
    const here = head[k]!;
    const moved = headStep[k]!;
    let gain = imbalance[k]!;
    let right = rightSide[k]!;
    let toGround = ground[k]!;

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
      const state = linkState[p]!;
      let q = flow[p]!;
      if (move) {
        // For a holding regulator `findStep` has put the change here.
        if (state === STATE.holding) q += miss[p]!;
        else q += (miss[p]! + moved - headStep[o]!) * conductance[p]!;
        flow[p] = q;
      }
      gain -= q;
      imbalance[o]! += q;
      if (state === STATE.holding) continue;

      let loss: number;
      let slope: number;
      let counts = true;
      if (state === STATE.pipe) {
        if (sizeOf[p] !== size) {
          size = sizeOf[p]!;
          const at = size * STRIDE;
          perReynolds = constants[at + PER_REYNOLDS]!;
          laminar = constants[at + LAMINAR]!;
          square = constants[at + SQUARE]!;
          c0 = constants[at + CUBIC]!;
          c1 = constants[at + CUBIC + 1]!;
          c2 = constants[at + CUBIC + 2]!;
          c3 = constants[at + CUBIC + 3]!;
          factors = sizes.factorsOf(size);
        }
        const speed = q < 0 ? -q : q;
        const re = perReynolds * speed;
        if (re <= LAMINAR_RE) {
          slope = laminar * lengthM[p]!;
          loss = slope * q;
        } else {
          let f: number;
          let rise: number;
          if (re <= TURBULENT_RE) {
            const r = re * (1 / LAMINAR_RE);
            f = c0 + r * (c1 + r * (c2 + r * c3));
            rise = r * (c1 + r * (2 * c2 + r * 3 * c3));
          } else {
            let cuts = re * CUTS_PER_RE;
            let first = -CUTS;
            while (cuts >= 2 * CUTS) {
              cuts *= 0.5;
              first += CUTS;
            }
            const part = Math.floor(cuts);
            const knot = 3 * (first + part);
            const f0 = factors[knot]!;
            const span = factors[knot + 3]! - f0;
            // Not a number beyond the table and where it has not been worked out yet.
            if (span === span) {
              const t = cuts - part;
              const m0 = factors[knot + 1]!;
              const m1 = factors[knot + 5]!;
              const d2 = 3 * span - 2 * m0 - m1;
              const d3 = m0 + m1 - 2 * span;
              f = f0 + t * (m0 + t * (d2 + t * d3));
              rise = (m0 + t * (2 * d2 + t * 3 * d3)) * cuts;
            } else {
              sizes.turbulent(size, re, out);
              f = out[0]!;
              rise = out[1]!;
            }
          }
          const part = square * lengthM[p]! * speed;
          loss = part * q * f;
          slope = part * (2 * f + rise);
        }
        const k = lossK[p]!;
        if (k > 0) {
          const local = constants[size * STRIDE + LOCAL]! * k * speed;
          loss += local * q;
          slope += 2 * local;
        }
      } else {
        counts = lookAtPart(w, p, q, out);
        loss = out[0]!;
        slope = out[1]!;
      }
      const gap = here - head[o]! - loss;
      const c = 1 / slope;
      if (counts) {
        const off = gap < 0 ? -gap : gap;
        missSum += off;
        if (off > missMax) missMax = off;
        const driven = c * (off - ROUNDING_M);
        if (driven > missFlow) missFlow = driven;
      }
      miss[p] = gap;
      conductance[p] = c;
      const push = c * gap;
      right -= push;
      rightSide[o]! += push;
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
      ground[o]! += share * toGround;
      rightSide[o]! += share * right;
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
      ground[o]! += shareD * toGround;
      rightSide[o]! += shareD * right;
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
