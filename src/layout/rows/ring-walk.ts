import { distance, type Path, type Point } from '../../base/point.ts';
import { nearestOnSegment, pathLength } from '../../base/polyline.ts';
import { cutsAt, type EdgeRing, type PieceEnd } from './pieces.ts';
import type { Frame } from './frame.ts';

/** The way along a ring from one end of a row to the next. */
export interface Gap {
  readonly from: PieceEnd;
  readonly to: PieceEnd;
  /** Corners of the ring between them. */
  readonly between: Path;
  /** In plan, metres. */
  readonly lengthM: number;
}

/** Headers leave out corners that lie this near to the straight way, metres: less than a joint. */
const STRAIGHT_M = 0.005;
/** A way along the ring longer than the straight one by this goes straight where there is ground. */
const DETOUR = 1.3;
/** The straight way may leave the region by so much, metres: rounded corners of the inset. */
const OVER_EDGE_M = 0.002;

/** Ends of pieces in order round each ring; rings without any, and ends on no ring, are left out. */
export function endsByRing(ends: readonly PieceEnd[]): PieceEnd[][] {
  const byRing = new Map<number, PieceEnd[]>();
  for (const end of ends) {
    if (end.ring < 0) continue;
    const list = byRing.get(end.ring);
    if (list) list.push(end);
    else byRing.set(end.ring, [end]);
  }
  return [...byRing.values()].map((list) => list.toSorted((a, b) => a.along - b.along));
}

/** The way from one end to the next round its ring. */
export function gapAfter(rings: readonly EdgeRing[], frame: Frame, from: PieceEnd, to: PieceEnd): Gap {
  const ring = rings[from.ring]!.plan;
  const span = (to.along - from.along + ring.length) % ring.length || ring.length;
  const corners: Point[] = [];
  for (let k = Math.floor(from.along) + 1; k - from.along < span; k++) corners.push(ring[k % ring.length]!);
  const whole = [from.at, ...corners, to.at];
  const lengthM = pathLength(whole);
  const straightM = distance(from.at, to.at);
  if (lengthM > DETOUR * straightM && isInside(rings, frame, from.at, to.at))
    return { from, to, between: [], lengthM: straightM };
  return { from, to, between: straightened(whole).slice(1, -1), lengthM };
}

/** Whether the straight way lies in the region, but for a hair at its edge. */
function isInside(rings: readonly EdgeRing[], frame: Frame, a: Point, b: Point): boolean {
  const [p, q] = [frame.toFrame(a), frame.toFrame(b)];
  const steps = Math.max(2, Math.min(200, Math.ceil(distance(p, q) / 0.05)));
  for (let k = 1; k < steps; k++) {
    const at: Point = [p[0] + ((q[0] - p[0]) * k) / steps, p[1] + ((q[1] - p[1]) * k) / steps];
    const inside = cutsAt(rings, at[1]).some(([from, to]) => at[0] >= from.u && at[0] <= to.u);
    if (!inside && !nearEdge(rings, at)) return false;
  }
  return true;
}

function nearEdge(rings: readonly EdgeRing[], at: Point): boolean {
  return rings.some(({ inFrame }) =>
    inFrame.some(
      (corner, i) => nearestOnSegment(corner, inFrame[(i + 1) % inFrame.length]!, at).distance <= OVER_EDGE_M,
    ),
  );
}

/** The path without corners that lie near the way between those kept (Douglas and Peucker 1973). */
export function straightened(path: Path): Path {
  const first = path[0]!;
  const last = path.at(-1)!;
  let far = 0;
  let at = 0;
  for (let i = 1; i + 1 < path.length; i++) {
    const away = nearestOnSegment(first, last, path[i]!).distance;
    if (away > far) [far, at] = [away, i];
  }
  if (far <= STRAIGHT_M) return [first, last];
  return [...straightened(path.slice(0, at + 1)).slice(0, -1), ...straightened(path.slice(at))];
}

/** The path without places that repeat the one before. */
export function withoutRepeats(path: Path): Path {
  return path.filter((p, i) => i === 0 || distance(path[i - 1]!, p) > 1e-6);
}
