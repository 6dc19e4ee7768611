import { ringArea } from '../../base/polygon.ts';
import type { Box, Path, Point, Ring } from '../../base/point.ts';
import { clippedRing } from './clip.ts';

/** `inside`: between the levels; `outside`: carried on beyond them; `none`: no level at all, height 0 taken. */
export type HeightOrigin = 'inside' | 'outside' | 'none';

/** A plane piece of the ground: a convex ring, counter-clockwise. It may reach beyond the box that was asked for. */
export interface Face {
  readonly ring: Ring;
  /** Height at each corner, metres. */
  readonly zM: readonly number[];
  /** Rise per metre east and per metre north. */
  readonly gradient: Point;
  readonly how: HeightOrigin;
}

/** Slope of a face, percent. */
export function facePercent({ gradient }: Face): number {
  return Math.hypot(gradient[0], gradient[1]) * 100;
}

/** The corners of a box, counter-clockwise. */
export function boxRing({ minX, minY, maxX, maxY }: Box): Ring {
  return [
    [minX, minY],
    [maxX, minY],
    [maxX, maxY],
    [minX, maxY],
  ];
}

/**
 * Area in plan that a polygon shares with a face, m2; exact. Holes are taken to lie inside the outline and apart from
 * each other.
 */
export function sharedArea(outline: Ring, holes: readonly Ring[], face: Face): number {
  const area = (ring: Ring) => Math.abs(ringArea(clippedRing(ring, face.ring)));
  return Math.max(
    0,
    holes.reduce((sum, hole) => sum - area(hole), area(outline)),
  );
}

/** Shares (from, to) of the straight way from `a` to `b` that lie in faces of one origin, in order and joined. */
export function sharesOf(
  faces: readonly Face[],
  how: HeightOrigin,
  [a, b]: readonly [Point, Point],
): [from: number, to: number][] {
  const found = faces
    .filter((face) => face.how === how)
    .map(({ ring }) => sharesIn(ring, a, b))
    .filter((share) => share !== null)
    .sort((one, other) => one[0] - other[0]);
  const joined: [number, number][] = [];
  for (const [from, to] of found) {
    const last = joined.at(-1);
    if (last && from <= last[1] + 1e-9) last[1] = Math.max(last[1], to);
    else joined.push([from, to]);
  }
  return joined.filter(([from, to]) => to - from > 1e-9);
}

/** The part of the way from `a` to `b` that lies in a convex ring (counter-clockwise). */
function sharesIn(ring: Ring, a: Point, b: Point): [number, number] | null {
  let from = 0;
  let to = 1;
  for (let i = 0; i < ring.length; i++) {
    const p = ring[i]!;
    const q = ring[(i + 1) % ring.length]!;
    const ex = q[0] - p[0];
    const ey = q[1] - p[1];
    const at = ex * (a[1] - p[1]) - ey * (a[0] - p[0]);
    const change = ex * (b[1] - a[1]) - ey * (b[0] - a[0]);
    const hair = 1e-9 * (Math.abs(ex) + Math.abs(ey));
    if (Math.abs(change) <= 1e-12 * (Math.abs(ex) + Math.abs(ey))) {
      if (at < -hair) return null;
    } else if (change > 0) from = Math.max(from, -at / change);
    else to = Math.min(to, -at / change);
  }
  return from <= to ? [from, to] : null;
}

/** A straight piece as far as it lies in a box; null where it misses it (Liang and Barsky). */
export function clippedToBox(a: Point, b: Point, { minX, minY, maxX, maxY }: Box): Path | null {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  let from = 0;
  let to = 1;
  for (const [change, room] of [
    [-dx, a[0] - minX],
    [dx, maxX - a[0]],
    [-dy, a[1] - minY],
    [dy, maxY - a[1]],
  ] as const) {
    if (change === 0) {
      if (room < 0) return null;
    } else if (change < 0) from = Math.max(from, room / change);
    else to = Math.min(to, room / change);
  }
  if (from >= to) return null;
  const at = (t: number): Point => (t === 0 ? a : t === 1 ? b : [a[0] + dx * t, a[1] + dy * t]);
  return [at(from), at(to)];
}
