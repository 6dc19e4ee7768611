import { between, type Point } from '../../base/point.ts';
import { readAcross } from '../ground/index.ts';
import type { Line } from './lines.ts';
import type { LineOutlet } from './outlets.ts';
import type { Taps } from './taps.ts';

/** A place on a line that becomes a node: what joins there, and which of the line's outlets are tapped there. */
export interface Stop {
  readonly point: Point;
  /** Distance along the ground. */
  readonly groundAlong: number;
  readonly zM: number;
  /** A tap whose set has the node, or -1 where only outlets are. */
  readonly tap: number;
  /** Outlets of the line tapped here: the first, and how many. */
  readonly firstOutlet: number;
  readonly outletCount: number;
}

/** Places nearer to each other than this are one node, metres. */
const ONE_NODE = 0.001;

/**
 * The stops of a line in the order of its path: all vertices, joints and outlets; what lies within 1 mm is one stop,
 * and its taps are joined.
 * @param outlets those of the line, in the order of its path
 */
export function stopsOf(line: Line, index: number, outlets: readonly LineOutlet[], taps: Taps): Stop[] {
  const { profile, points, vertexAlong } = line;
  const middles = taps.middles[index]!.toSorted((a, b) => a.along - b.along);
  const stops: Stop[] = [];
  let vertex = 0;
  let middle = 0;
  let outlet = 0;
  let segment = 0;
  for (;;) {
    const first = Math.min(
      vertexAlong[vertex] ?? Infinity,
      middles[middle]?.along ?? Infinity,
      outlets[outlet]?.along ?? Infinity,
    );
    if (first === Infinity) return stops;
    const reach = first + ONE_NODE;
    const firstOutlet = outlet;
    while (outlet < outlets.length && outlets[outlet]!.along < reach) outlet++;
    let along = first;
    let tap = -1;
    const meet = (other: number, at: number): void => {
      if (tap >= 0) taps.sets.join(tap, other);
      else along = at;
      tap = other;
    };
    for (; middle < middles.length && middles[middle]!.along < reach; middle++) {
      meet(middles[middle]!.tap, middles[middle]!.along);
    }
    for (; vertex < vertexAlong.length && vertexAlong[vertex]! < reach; vertex++) {
      meet(taps.vertex(index, vertex), vertexAlong[vertex]!);
    }
    while (segment + 2 < points.length && vertexAlong[segment + 1]! <= along) segment++;
    const start = vertexAlong[segment]!;
    const share = Math.min(1, Math.max(0, (along - start) / (vertexAlong[segment + 1]! - start)));
    stops.push({
      point: between(points[segment]!, points[segment + 1]!, share),
      groundAlong: readAcross(profile.planAlong, profile.groundAlong, along),
      zM: readAcross(profile.planAlong, profile.zM, along),
      tap,
      firstOutlet,
      outletCount: outlet - firstOutlet,
    });
  }
}
