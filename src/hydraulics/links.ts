import { LAMINAR_RE, TURBULENT_RE } from './friction.ts';
import { lookAtPart } from './part-loss.ts';
import {
  CUBIC,
  CUTS,
  CUTS_PER_RE,
  HIGHEST_RE,
  LAMINAR,
  LOCAL,
  NO_FACTORS,
  PER_REYNOLDS,
  SQUARE,
  STRIDE,
} from './pipe-sizes.ts';
import { STATE, type Workspace } from './workspace.ts';

const out = new Float64Array(2);

/**
 * Loss of every link at its flow, for now to `miss`, and its conductance; a holding regulator has none. The solver
 * spends much of its time here, so `PipeSizes.lossAt` is written out.
 * @param move moves the flows first, by the whole step that `findStep` has found.
 */
export function evaluateLinks(w: Workspace, move: boolean): void {
  const { flow, headStep, conductance, miss, owner, other, sizes, linkState } = w;
  const { lengthM, lossK, sizeOf, constants } = sizes;
  let size = -1;
  let perReynolds = 0;
  let laminar = 0;
  let square = 0;
  let c0 = 0;
  let c1 = 0;
  let c2 = 0;
  let c3 = 0;
  let factors: Float64Array = NO_FACTORS;
  for (let p = 0; p < flow.length; p++) {
    let q = flow[p]!;
    const ofSize = sizeOf[p]!;
    if (move) {
      // For a holding regulator `findStep` has put the change here.
      if (ofSize < 0 && linkState[p] === STATE.holding) q += miss[p]!;
      else q += (miss[p]! + headStep[owner[p]!]! - headStep[other[p]!]!) * conductance[p]!;
      flow[p] = q;
    }
    if (ofSize < 0) {
      evaluatePart(w, p);
      continue;
    }
    if (ofSize !== size) {
      size = ofSize;
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
    let loss: number;
    let slope: number;
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
        const knot = re < HIGHEST_RE ? 3 * (first + part) : 0;
        const f0 = factors[knot]!;
        const span = factors[knot + 3]! - f0;
        // Not a number where the table has not been worked out yet.
        if (span === span && re < HIGHEST_RE) {
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
    miss[p] = loss;
    conductance[p] = 1 / slope;
  }
}

/** The same for a link that is not a pipe. */
function evaluatePart(w: Workspace, p: number): void {
  if (w.linkState[p] === STATE.holding) return;
  lookAtPart(w, p, w.flow[p]!, out);
  w.miss[p] = out[0]!;
  w.conductance[p] = 1 / out[1]!;
}

/** The same for the valves alone, after a change of their states. */
export function evaluateValves(w: Workspace): void {
  for (const p of w.valves) evaluatePart(w, p);
}
