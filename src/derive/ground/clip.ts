import type { Point, Ring } from '../../base/point.ts';

/**
 * The part of any ring that lies in a convex one (counter-clockwise), by Sutherland and Hodgman: its area and its
 * even-odd fill are right, though parts that fall apart stay joined by lines without width. Empty where they are apart.
 */
export function clippedRing(subject: Ring, convex: Ring): Ring {
  let ring: Point[] = [...subject];
  for (let i = 0; i < convex.length && ring.length > 0; i++) {
    const p = convex[i]!;
    const q = convex[(i + 1) % convex.length]!;
    const ex = q[0] - p[0];
    const ey = q[1] - p[1];
    const side = ([x, y]: Point) => ex * (y - p[1]) - ey * (x - p[0]);
    const kept: Point[] = [];
    let before = ring.at(-1)!;
    let sideBefore = side(before);
    for (const at of ring) {
      const sideAt = side(at);
      if (sideAt >= 0 !== sideBefore >= 0) {
        const share = sideBefore / (sideBefore - sideAt);
        kept.push([before[0] + (at[0] - before[0]) * share, before[1] + (at[1] - before[1]) * share]);
      }
      if (sideAt >= 0) kept.push(at);
      before = at;
      sideBefore = sideAt;
    }
    ring = kept;
  }
  return ring;
}
