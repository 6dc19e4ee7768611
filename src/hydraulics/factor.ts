import type { Ordering } from './ordering.ts';

/**
 * The linear equations of a network of conductances: at each free node v
 *   (ground_v + sum of mutual_va) x_v - sum of mutual_va x_a = b_v.
 * They are solved by taking out one node after the other and joining its neighbours by the conductances that replace
 * it (star to mesh). This is Cholesky's elimination in other words, but each number stays a sum of positive ones: no
 * difference of large numbers arises, and closed valves with next to no conductance do no harm.
 */

/** Eliminates. `mutual` and `ground` are overwritten by what is left at each node when it goes. */
export function factor(
  ordering: Ordering,
  mutual: Float64Array,
  ground: Float64Array,
  pivotInverse: Float64Array,
): void {
  const { sequence, column, later, pair, pairSlot } = ordering;
  for (let k = 0, begin = 0; k < sequence.length; k++) {
    const v = sequence[k]!;
    const end = column[k + 1]!;
    if (end - begin === 1) {
      const c = mutual[begin]!;
      const g = ground[v]!;
      const inverse = 1 / (c + g);
      pivotInverse[v] = inverse;
      ground[later[begin]!]! += c * g * inverse;
    } else {
      let pivot = ground[v]!;
      for (let s = begin; s < end; s++) pivot += mutual[s]!;
      const inverse = 1 / pivot;
      pivotInverse[v] = inverse;
      const toGround = ground[v]! * inverse;
      let p = pair[k]!;
      for (let s = begin; s < end; s++) {
        const c = mutual[s]!;
        ground[later[s]!]! += c * toGround;
        const share = c * inverse;
        for (let t = s + 1; t < end; t++) mutual[pairSlot[p++]!]! += share * mutual[t]!;
      }
    }
    begin = end;
  }
}

/** Solves with the eliminated numbers for the right side `b`, which is overwritten; the answer goes to `x`. */
export function substitute(
  ordering: Ordering,
  mutual: Float64Array,
  ground: Float64Array,
  pivotInverse: Float64Array,
  b: Float64Array,
  x: Float64Array,
): void {
  const { sequence, column, later } = ordering;
  const count = sequence.length;
  for (let k = 0, begin = 0; k < count; k++) {
    const v = sequence[k]!;
    const end = column[k + 1]!;
    const share = b[v]! * pivotInverse[v]!;
    if (share !== 0) for (let s = begin; s < end; s++) b[later[s]!]! += mutual[s]! * share;
    begin = end;
  }
  for (let k = count - 1; k >= 0; k--) {
    const v = sequence[k]!;
    const begin = column[k]!;
    const end = column[k + 1]!;
    if (end - begin === 1) {
      // As a difference from the neighbour, so that a dead end stays exactly level with it.
      const a = x[later[begin]!]!;
      x[v] = a + (b[v]! - ground[v]! * a) * pivotInverse[v]!;
    } else {
      let sum = b[v]!;
      for (let s = begin; s < end; s++) sum += mutual[s]! * x[later[s]!]!;
      x[v] = sum * pivotInverse[v]!;
    }
  }
}
