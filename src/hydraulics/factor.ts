import type { Ordering } from './ordering.ts';

/**
 * The linear equations of a network of conductances: at each free node v
 *   (ground_v + sum of mutual_va) x_v - sum of mutual_va x_a = b_v.
 * They are solved by taking out one node after the other and joining its neighbours by the conductances that replace
 * it (star to mesh). This is Cholesky's elimination in other words, but each number stays a sum of positive ones: no
 * difference of large numbers arises, and closed valves with next to no conductance do no harm.
 *
 * All arrays go by position in the order of elimination.
 */
export interface Equations {
  readonly ordering: Ordering;
  /** By slot: conductance between two free nodes; for a node taken out, what was there when it went. */
  readonly mutual: Float64Array;
  /** Conductance to heads that do not move, and to outlets; likewise. */
  readonly ground: Float64Array;
  readonly pivotInverse: Float64Array;
}

/** Takes out position `k`, whose numbers must be complete; `b` is brought along. */
export function eliminate(eq: Equations, k: number, b: Float64Array): void {
  const { mutual, ground, pivotInverse } = eq;
  const { column, later, pair, pairSlot } = eq.ordering;
  const begin = column[k]!;
  const end = column[k + 1]!;
  let pivot = ground[k]!;
  for (let s = begin; s < end; s++) pivot += mutual[s]!;
  const inverse = 1 / pivot;
  pivotInverse[k] = inverse;
  const toGround = ground[k]! * inverse;
  const toRight = b[k]! * inverse;
  let p = pair[k]!;
  for (let s = begin; s < end; s++) {
    const c = mutual[s]!;
    const o = later[s]!;
    ground[o]! += c * toGround;
    b[o]! += c * toRight;
    const share = c * inverse;
    for (let t = s + 1; t < end; t++) mutual[pairSlot[p++]!]! += share * mutual[t]!;
  }
}

/** Brings a right side to where `eliminate` would have brought it. */
export function forward({ ordering, mutual, pivotInverse }: Equations, b: Float64Array): void {
  const { column, later, free } = ordering;
  for (let k = 0, begin = 0; k < free; k++) {
    const end = column[k + 1]!;
    const share = b[k]! * pivotInverse[k]!;
    if (share !== 0) for (let s = begin; s < end; s++) b[later[s]!]! += mutual[s]! * share;
    begin = end;
  }
}

/** Solves for a right side brought forward; gives the largest answer. `b` and `x` may be one array. */
export function backward(eq: Equations, b: Float64Array, x: Float64Array): number {
  const { mutual, ground, pivotInverse } = eq;
  const { column, later, free } = eq.ordering;
  let largest = 0;
  for (let k = free - 1, end = column[free]!; k >= 0; k--) {
    const begin = column[k]!;
    let value: number;
    if (end - begin === 1) {
      // As a difference from the neighbour, so that a dead end stays exactly level with it.
      const a = x[later[begin]!]!;
      value = a + (b[k]! - ground[k]! * a) * pivotInverse[k]!;
    } else {
      value = b[k]!;
      for (let s = begin; s < end; s++) value += mutual[s]! * x[later[s]!]!;
      value *= pivotInverse[k]!;
    }
    x[k] = value;
    const size = Math.abs(value);
    if (size > largest) largest = size;
    end = begin;
  }
  return largest;
}

/**
 * Changes a right side brought forward so that `backward` gives the answer with one conductance more: `more` between
 * position `k` and the one at its slot `slot` (-1: a head that does not move), and `push` more drawn from `k` and given
 * there. The rest stays as it was taken out: what changes is worked out along the way from `k` to the last node
 * (Sherman and Morrison, Annals of Mathematical Statistics 21, 1950; title from memory). False, with nothing changed, when the two nodes
 * would hardly hold together any more.
 */
export function changeOne(
  eq: Equations,
  k: number,
  slot: number,
  more: number,
  push: number,
  b: Float64Array,
): boolean {
  const { mutual, pivotInverse } = eq;
  const { column, later } = eq.ordering;
  const o = slot < 0 ? -1 : later[slot]!;
  const way: number[] = [];
  for (let v = k; ;) {
    way.push(v);
    let next = Infinity;
    for (let s = column[v]!; s < column[v + 1]!; s++) next = Math.min(next, later[s]!);
    if (next === Infinity) break;
    v = next;
  }
  const place = new Map(way.map((v, i) => [v, i]));
  const unit = new Float64Array(way.length);
  unit[0] = 1;
  if (o >= 0) unit[place.get(o)!]! -= 1;
  way.forEach((v, i) => {
    const share = unit[i]! * pivotInverse[v]!;
    if (share === 0) return;
    for (let s = column[v]!; s < column[v + 1]!; s++) unit[place.get(later[s]!)!]! += mutual[s]! * share;
  });
  const answer = new Float64Array(way.length);
  const now = new Float64Array(way.length);
  for (let i = way.length - 1; i >= 0; i--) {
    const v = way[i]!;
    let sum = unit[i]!;
    let sumNow = b[v]!;
    for (let s = column[v]!; s < column[v + 1]!; s++) {
      const at = place.get(later[s]!)!;
      sum += mutual[s]! * answer[at]!;
      sumNow += mutual[s]! * now[at]!;
    }
    answer[i] = sum * pivotInverse[v]!;
    now[i] = sumNow * pivotInverse[v]!;
  }
  const across = (x: Float64Array) => x[0]! - (o >= 0 ? x[place.get(o)!]! : 0);
  const weight = 1 + more * across(answer);
  if (!(weight > LEAST_WEIGHT)) return false;
  const share = -push - (more * (across(now) - push * across(answer))) / weight;
  way.forEach((v, i) => (b[v]! += share * unit[i]!));
  return true;
}

/** Below this the update loses figures. */
const LEAST_WEIGHT = 1e-3;
