import type { Point } from '../../../base/point.ts';

/** One collator for all: making one at each comparison takes far longer than the comparison. */
const NATURAL = new Intl.Collator('en', { numeric: true });

/** Natural order of names, the same on every machine: `H2` before `H10`. */
export function inOrder(a: string, b: string): number {
  if (a === b) return 0;
  return NATURAL.compare(a, b) || (a < b ? -1 : a > b ? 1 : 0);
}

/** Order of places by x, then y: does not depend on how the records lie in their table. */
export function placeOrder(a: Point, b: Point): number {
  return a[0] - b[0] || a[1] - b[1];
}
