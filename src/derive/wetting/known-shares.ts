import type { Plant } from '../../plan/records.ts';
import type { Ellipses } from './ellipses.ts';

/** A share as computed for a plant, with what it was computed from. */
interface Known {
  readonly radiusM: number;
  /** The ellipses near it: five figures of each. */
  readonly forms: Float64Array;
  readonly share: number;
}

const known = new WeakMap<Plant, Known[]>();
/** Now and grown. */
const MOST_KEPT = 2;
const FIGURES = 5;
/** Flows that a solver finds anew differ by less than this part, which no share shows. */
const ALIKE = 1e-6;

/**
 * The share of a plant's circle, computed only when an ellipse near it has changed: an edit moves few of thousands.
 * @param near indices of the ellipses whose boxes meet the circle's, sorted
 */
export function knownShare(
  plant: Plant,
  radiusM: number,
  wet: Ellipses,
  near: readonly number[],
  compute: () => number,
): number {
  const before = known.get(plant) ?? [];
  const same = before.find((one) => one.radiusM === radiusM && isAlike(one.forms, wet, near));
  if (same) return same.share;
  const share = compute();
  const kept = before.filter((one) => one.radiusM !== radiusM).slice(-MOST_KEPT + 1);
  known.set(plant, [...kept, { radiusM, forms: formsOf(wet, near), share }]);
  return share;
}

function formsOf({ x, y, a, b, c }: Ellipses, near: readonly number[]): Float64Array {
  const forms = new Float64Array(FIGURES * near.length);
  near.forEach((k, i) => forms.set([x[k]!, y[k]!, a[k]!, b[k]!, c[k]!], FIGURES * i));
  return forms;
}

function isAlike(forms: Float64Array, { x, y, a, b, c }: Ellipses, near: readonly number[]): boolean {
  if (forms.length !== FIGURES * near.length) return false;
  const differs = (p: number, q: number): boolean => Math.abs(p - q) > ALIKE * Math.abs(p) + ALIKE ** 2;
  for (let i = 0; i < near.length; i++) {
    const k = near[i]!;
    const at = FIGURES * i;
    if (
      differs(forms[at]!, x[k]!) ||
      differs(forms[at + 1]!, y[k]!) ||
      differs(forms[at + 2]!, a[k]!) ||
      differs(forms[at + 3]!, b[k]!) ||
      differs(forms[at + 4]!, c[k]!)
    )
      return false;
  }
  return true;
}
