import Flatbush from 'flatbush';
import type { Region } from '../../base/clip.ts';
import { between, type Path, type Point } from '../../base/point.ts';

/** Where a piece of line begins or ends. */
export interface CutEnd {
  readonly at: Point;
  /** Ring of the region that cuts it there, with number of the edge and share of it; -1: its own end. */
  readonly ring: number;
  readonly along: number;
}

/** A piece of a line that lies in a region. */
export interface CutPiece {
  readonly first: CutEnd;
  readonly last: CutEnd;
  /** From `first` to `last`. */
  readonly path: Path;
  /** The whole of a closed line: both ends are one place. */
  readonly isClosed: boolean;
}

/** A region made ready to be asked often. */
export interface Cutter {
  /** Whether a place lies in the region. */
  contains(p: Point): boolean;
  /** The pieces of a line in the region, in order. A closed line repeats its first place at its end. */
  cut(path: Path): readonly CutPiece[];
  /** Whether the straight way lies wholly in the region; touching its edge at an end counts as inside. */
  holds(a: Point, b: Point): boolean;
}

/** Which side of the line through a and b; places on it count as on the right, so that a corner counts once. */
function isLeft(a: Point, b: Point, p: Point): boolean {
  return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 0;
}

/** How near to its ends, as a share, a straight way may touch the edge. */
const AT_END = 1e-6;

/** Cuts lines at the edges of a region; edges are found by their boxes. */
export function cutterOf(region: Region): Cutter {
  const edges = region.flatMap((ring, r) =>
    ring.map((c, i) => ({ ring: r, i, c, d: ring[(i + 1) % ring.length]! })),
  );
  const boxes = edges.length > 0 ? new Flatbush(edges.length) : null;
  for (const { c, d } of edges)
    boxes!.add(Math.min(c[0], d[0]), Math.min(c[1], d[1]), Math.max(c[0], d[0]), Math.max(c[1], d[1]));
  boxes?.finish();

  const contains = ([x, y]: Point): boolean => {
    if (!boxes) return false;
    let inside = false;
    for (const k of boxes.search(x, y, Infinity, y)) {
      const { c, d } = edges[k]!;
      if (c[1] > y !== d[1] > y && x < ((d[0] - c[0]) * (y - c[1])) / (d[1] - c[1]) + c[0]) inside = !inside;
    }
    return inside;
  };

  const crossings = (a: Point, b: Point): { readonly t: number; readonly end: CutEnd }[] => {
    const found: { t: number; end: CutEnd }[] = [];
    const hits =
      boxes?.search(Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.max(a[0], b[0]), Math.max(a[1], b[1])) ??
      [];
    for (const k of hits) {
      const { c, d, ring, i } = edges[k]!;
      if (isLeft(a, b, c) === isLeft(a, b, d) || isLeft(c, d, a) === isLeft(c, d, b)) continue;
      const [ex, ey] = [d[0] - c[0], d[1] - c[1]];
      const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
      const cross = dx * ey - dy * ex;
      if (cross === 0) continue;
      const t = Math.min(1, Math.max(0, ((c[0] - a[0]) * ey - (c[1] - a[1]) * ex) / cross));
      const u = Math.min(1, Math.max(0, ((c[0] - a[0]) * dy - (c[1] - a[1]) * dx) / cross));
      found.push({ t, end: { at: between(c, d, u), ring, along: i + u } });
    }
    return found.sort((one, other) => one.t - other.t);
  };

  const cut = (path: Path): readonly CutPiece[] => {
    const [start, finish] = [path[0], path.at(-1)];
    if (!start || !finish || path.length < 2) return [];
    const pieces: CutPiece[] = [];
    let points: Point[] = [start];
    let first: CutEnd | null = contains(start) ? { at: start, ring: -1, along: 0 } : null;
    const beganInside = first !== null;
    path.slice(1).forEach((b, i) => {
      for (const { end } of crossings(path[i]!, b)) {
        if (first) {
          pieces.push({ first, last: end, path: [...points, end.at], isClosed: false });
          first = null;
        } else {
          first = end;
          points = [end.at];
        }
      }
      if (first) points.push(b);
    });
    const isClosed = start[0] === finish[0] && start[1] === finish[1] && path.length > 3;
    if (first) {
      const before = pieces[0];
      if (isClosed && before && beganInside) {
        // The line's own start lies within a piece: both halves are one.
        pieces[0] = { first, last: before.last, path: [...points, ...before.path.slice(1)], isClosed: false };
      } else
        pieces.push({
          first,
          last: { at: finish, ring: -1, along: 0 },
          path: points,
          isClosed: isClosed && pieces.length === 0,
        });
    }
    return pieces;
  };

  return {
    contains,
    cut,
    holds: (a, b) =>
      contains(between(a, b, 0.5)) && crossings(a, b).every(({ t }) => t <= AT_END || t >= 1 - AT_END),
  };
}
