import { between, distance, type Path, type Point } from './point.ts';

/** Where something lies nearest to on one straight piece. */
export interface NearestOnSegment {
  readonly point: Point;
  /** Metres from the asked point. */
  readonly distance: number;
  /** Share of the way from the piece's start to its end, 0 to 1. */
  readonly t: number;
}

/** Where something lies nearest to on a path. */
export interface NearestOnPath extends NearestOnSegment {
  /** Number of the piece, from 0; piece i runs from point i to point i + 1. */
  readonly segment: number;
  /** Metres along the path from its start to `point`. */
  readonly along: number;
}

/** Shares of lengths below which two directions count as parallel, or a point as on a line. */
const HAIR = 1e-12;

/** Length of a path in the plane, metres; 0 for fewer than two points. */
export function pathLength(path: Path): number {
  let sum = 0;
  for (let i = 1; i < path.length; i++) sum += distance(path[i - 1]!, path[i]!);
  return sum;
}

/**
 * The point `along` metres from the start of a path; before the start gives the start, past the end the end.
 * Throws a RangeError for a path without points or a distance that is not a number.
 */
export function pointAlong(path: Path, along: number): Point {
  const first = path[0];
  if (!first) throw new RangeError('pointAlong: the path has no points');
  if (Number.isNaN(along)) throw new RangeError('pointAlong: the distance is not a number');
  if (along <= 0) return first;
  let left = along;
  for (let i = 1; i < path.length; i++) {
    const a = path[i - 1]!;
    const b = path[i]!;
    const length = distance(a, b);
    if (left < length) return between(a, b, left / length);
    left -= length;
  }
  return path[path.length - 1]!;
}

/** The point of the straight piece from `a` to `b` that is nearest to `p`. A piece without length is its start. */
export function nearestOnSegment(a: Point, b: Point, p: Point): NearestOnSegment {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const squared = dx * dx + dy * dy;
  const raw = squared > 0 ? ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / squared : 0;
  const t = raw > 0 ? Math.min(raw, 1) : 0;
  const point = t === 0 ? a : t === 1 ? b : between(a, b, t);
  return { point, distance: distance(point, p), t };
}

/**
 * The point of a path that is nearest to `p`; of several equally near the first along the path.
 * Throws a RangeError for a path without points.
 */
export function nearestOnPath(path: Path, p: Point): NearestOnPath {
  const first = path[0];
  if (!first) throw new RangeError('nearestOnPath: the path has no points');
  let best: NearestOnPath = { point: first, distance: distance(first, p), t: 0, segment: 0, along: 0 };
  let before = 0;
  for (let i = 1; i < path.length; i++) {
    const a = path[i - 1]!;
    const b = path[i]!;
    const near = nearestOnSegment(a, b, p);
    if (near.distance < best.distance) {
      best = { ...near, segment: i - 1, along: before + distance(a, near.point) };
    }
    before += distance(a, b);
  }
  return best;
}

/** Twice the area of the triangle a b c, positive when it turns left; 0 when c is a hair's breadth from the line. */
function turn(a: Point, b: Point, c: Point): number {
  const ux = b[0] - a[0];
  const uy = b[1] - a[1];
  const vx = c[0] - a[0];
  const vy = c[1] - a[1];
  const cross = ux * vy - uy * vx;
  const size = Math.hypot(ux, uy) * Math.max(Math.hypot(vx, vy), Math.hypot(c[0] - b[0], c[1] - b[1]));
  return Math.abs(cross) <= HAIR * size ? 0 : cross;
}

/** Whether `p`, known to lie on the line through `a` and `b`, lies between them. */
function within(a: Point, b: Point, p: Point): boolean {
  return (
    Math.min(a[0], b[0]) <= p[0] &&
    p[0] <= Math.max(a[0], b[0]) &&
    Math.min(a[1], b[1]) <= p[1] &&
    p[1] <= Math.max(a[1], b[1])
  );
}

/**
 * A point that the straight pieces a-b and c-d share, or `null`. Touching ends count; of pieces that lie on
 * each other it is one of their ends.
 */
export function segmentCrossing(a: Point, b: Point, c: Point, d: Point): Point | null {
  const c1 = turn(a, b, c);
  const d1 = turn(a, b, d);
  const a1 = turn(c, d, a);
  const b1 = turn(c, d, b);
  if (c1 * d1 < 0 && a1 * b1 < 0) return between(c, d, c1 / (c1 - d1));
  if (c1 === 0 && within(a, b, c)) return c;
  if (d1 === 0 && within(a, b, d)) return d;
  if (a1 === 0 && within(c, d, a)) return a;
  if (b1 === 0 && within(c, d, b)) return b;
  return null;
}

/** Whether the straight pieces a-b and c-d have a point in common; touching counts. */
export function segmentsCross(a: Point, b: Point, c: Point, d: Point): boolean {
  return segmentCrossing(a, b, c, d) !== null;
}

/** Share of the way from `a` to `b`, its ends left out, at which the piece `c`-`d` is crossed; none where parallel. */
export function crossingShares(a: Point, b: Point, c: Point, d: Point): number[] {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const [ex, ey] = [d[0] - c[0], d[1] - c[1]];
  const cross = dx * ey - dy * ex;
  if (Math.abs(cross) < 1e-15) return [];
  const t = ((c[0] - a[0]) * ey - (c[1] - a[1]) * ex) / cross;
  const u = ((c[0] - a[0]) * dy - (c[1] - a[1]) * dx) / cross;
  return t > 0 && t < 1 && u >= 0 && u <= 1 ? [t] : [];
}
