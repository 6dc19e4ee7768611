/** A place on the plan, metres: x east, y north. */
export type Point = readonly [x: number, y: number];

/** Closed ring of at least three points, the first not repeated at the end. */
export type Ring = readonly Point[];

/** Open polyline of at least two points. */
export type Path = readonly Point[];

/** Axis-parallel box, metres. */
export interface Box {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/** Distance between two points, metres. */
export function distance(a: Point, b: Point): number {
  return Math.hypot(b[0] - a[0], b[1] - a[1]);
}

/** The point at share `t` (0..1) of the way from `a` to `b`. */
export function between(a: Point, b: Point, t: number): Point {
  return [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
}

/** Direction from `a` to `b`, degrees counter-clockwise from east, in (-180, 180]. */
export function directionDeg(a: Point, b: Point): number {
  return (Math.atan2(b[1] - a[1], b[0] - a[0]) * 180) / Math.PI;
}

/** The point `lengthM` away from `a` in direction `angleDeg` (counter-clockwise from east). */
export function polar(a: Point, lengthM: number, angleDeg: number): Point {
  const r = (angleDeg * Math.PI) / 180;
  return [a[0] + lengthM * Math.cos(r), a[1] + lengthM * Math.sin(r)];
}

/** `p` moved by (dx, dy). */
export function shifted(p: Point, dx: number, dy: number): Point {
  return [p[0] + dx, p[1] + dy];
}

/** Box around points; `null` when there are none. */
export function boxOf(points: Iterable<Point>): Box | null {
  let minX = Infinity;
  let minY = Infinity;
  let maxX = -Infinity;
  let maxY = -Infinity;
  for (const [x, y] of points) {
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) maxY = y;
  }
  return minX <= maxX ? { minX, minY, maxX, maxY } : null;
}

/** Whether a place lies in a box or within `marginM` of it. */
export function boxHas({ minX, minY, maxX, maxY }: Box, [x, y]: Point, marginM = 0): boolean {
  return x >= minX - marginM && x <= maxX + marginM && y >= minY - marginM && y <= maxY + marginM;
}
