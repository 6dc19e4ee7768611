import Flatbush from 'flatbush';
import type { Point } from '../../base/point.ts';
import { JOINT_TOLERANCE_M } from '../../plan/joining.ts';
import type { Line } from './lines.ts';

/** A place on a line that lies near to an asked point. */
export interface Touch {
  readonly line: number;
  /** Distance along the line in plan. */
  readonly along: number;
  /** The line's vertex there, or -1 in the middle of an edge. */
  readonly vertex: number;
  /** Distance from the asked point. */
  readonly away: number;
}

/** Whether two places of one line are so close that only one of them can be the joint. */
export function closeAlong(a: Touch, b: Touch): boolean {
  return a.line === b.line && Math.abs(a.along - b.along) <= 2.5 * JOINT_TOLERANCE_M;
}

/** Finds the lines that pass within a distance of a point: the joining distance, where none is given. */
export interface TouchIndex {
  near(p: Point, reachM?: number): Touch[];
  /**
   * The places within the joining distance of a line's vertex, but for those that the line cannot join there: none of its
   * own at a vertex in its middle, and at an end not the edge that ends there.
   */
  nearVertex(line: number, vertex: number): Touch[];
}

export function touchIndex(lines: readonly Line[]): TouchIndex {
  const lineOf: number[] = [];
  const segmentOf: number[] = [];
  lines.forEach((line, i) => {
    for (let k = 0; k + 1 < line.points.length; k++) {
      lineOf.push(i);
      segmentOf.push(k);
    }
  });
  if (lineOf.length === 0) return { near: () => [], nearVertex: () => [] };
  const boxes = new Flatbush(lineOf.length);
  for (let s = 0; s < lineOf.length; s++) {
    const { points } = lines[lineOf[s]!]!;
    const [ax, ay] = points[segmentOf[s]!]!;
    const [bx, by] = points[segmentOf[s]! + 1]!;
    boxes.add(Math.min(ax, bx), Math.min(ay, by), Math.max(ax, bx), Math.max(ay, by));
  }
  boxes.finish();

  function gathered(p: Point, reachM: number, isLeftOut: (segment: number) => boolean): Touch[] {
    const found: Touch[] = [];
    // In the order of the lines, whatever the index looks like: what is joined must not depend on what else is drawn.
    const hits = boxes.search(p[0] - reachM, p[1] - reachM, p[0] + reachM, p[1] + reachM);
    if (hits.length > 1) hits.sort((a, b) => a - b);
    for (const s of hits) {
      if (isLeftOut(s)) continue;
      const line = lineOf[s]!;
      const touch = touchOf(lines[line]!, line, segmentOf[s]!, p, reachM);
      if (!touch) continue;
      // Of places close together on one line the nearest counts, or the piece between them would be lost.
      const close = found.findIndex((other) => closeAlong(other, touch));
      if (close < 0) found.push(touch);
      else if (touch.away < found[close]!.away) found[close] = touch;
    }
    return found;
  }
  return {
    near: (p, reachM = JOINT_TOLERANCE_M) => gathered(p, reachM, () => false),
    nearVertex(line, vertex) {
      const { points } = lines[line]!;
      const last = points.length - 1;
      const isEnd = vertex === 0 || vertex === last;
      const edge = vertex === 0 ? 0 : last - 1;
      return gathered(
        points[vertex]!,
        JOINT_TOLERANCE_M,
        (s) => lineOf[s] === line && (!isEnd || segmentOf[s] === edge),
      );
    },
  };
}

function touchOf(
  { points, vertexAlong }: Line,
  line: number,
  segment: number,
  p: Point,
  reachM: number,
): Touch | null {
  const a = points[segment]!;
  const b = points[segment + 1]!;
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const length = Math.hypot(dx, dy);
  const share = Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (length * length)));
  const away = Math.hypot(p[0] - a[0] - share * dx, p[1] - a[1] - share * dy);
  if (away > reachM) return null;
  // A vertex within the joining distance is the joint: it is what the person drew.
  const toA = Math.hypot(p[0] - a[0], p[1] - a[1]);
  const toB = Math.hypot(p[0] - b[0], p[1] - b[1]);
  if (Math.min(toA, toB) <= JOINT_TOLERANCE_M) {
    const vertex = toA <= toB ? segment : segment + 1;
    return { line, along: vertexAlong[vertex]!, vertex, away: Math.min(toA, toB) };
  }
  return { line, along: vertexAlong[segment]! + share * length, vertex: -1, away };
}
