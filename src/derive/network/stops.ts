import { between, type Point } from '../../base/point.ts';
import { readAcross } from '../ground/index.ts';
import type { PlacedOutlet, PlacedPiece } from '../results.ts';
import type { Line } from './lines.ts';
import type { LineOutlet } from './outlets.ts';
import type { Taps } from './taps.ts';

/** A place on a line that becomes a node: what joins there, and which of the line's outlets are tapped there. */
export interface Stop {
  readonly point: Point;
  /** Distance along the ground. */
  readonly groundAlong: number;
  readonly zM: number;
  /** What joins there as `Taps.own` counts it, whose set has the node, or -1 where only outlets are. */
  readonly tap: number;
  /** Outlets of the line tapped here: the first, and how many. */
  readonly firstOutlet: number;
  readonly outletCount: number;
}

/** The stops of a line in the order of its path, with what was made of them and holds as long as they do. */
export interface LineStops {
  readonly stops: readonly Stop[];
  /** Taps of the line that lie so close together that they are one, in pairs. */
  readonly joins: readonly (readonly [number, number])[];
  readonly outlets: readonly LineOutlet[];
  /** Distances along the line of the joints on its edges, rising. */
  readonly middles: readonly number[];
  /** The piece of tubing from each stop to the next, as far as it was asked for. */
  readonly pieces: (PlacedPiece | undefined)[];
  /** The outlets as they were placed last; null before that. */
  placed: readonly PlacedOutlet[] | null;
  /** Whether some of them do not sit on the tubing; known once they are placed. */
  hasFeeders: boolean;
}

/** Places nearer to each other than this are one node, metres. */
const ONE_NODE = 0.001;

const before = new WeakMap<Line, LineStops>();

/**
 * The stops of a line: all vertices, joints and outlets; what lies within 1 mm is one stop, and its taps are joined. The
 * same object as before while line, outlets and joints are the same.
 * @param outlets those of the line, in the order of its path
 */
export function stopsOf(line: Line, index: number, outlets: readonly LineOutlet[], taps: Taps): LineStops {
  const middles = taps.middlesAlong(index);
  let own = before.get(line);
  if (!own || !isSame(own.outlets, outlets) || !isSame(own.middles, middles)) {
    own = laidOut(line, outlets, middles);
    before.set(line, own);
  }
  for (const [a, b] of own.joins) taps.sets.join(taps.own(index, a), taps.own(index, b));
  return own;
}

function isSame<T>(a: readonly T[], b: readonly T[]): boolean {
  return a === b || (a.length === b.length && a.every((one, i) => one === b[i]));
}

function laidOut(line: Line, outlets: readonly LineOutlet[], middles: readonly number[]): LineStops {
  const { profile, points, vertexAlong } = line;
  const stops: Stop[] = [];
  const joins: [number, number][] = [];
  let vertex = 0;
  let middle = 0;
  let outlet = 0;
  let segment = 0;
  for (;;) {
    const first = Math.min(
      vertexAlong[vertex] ?? Infinity,
      middles[middle] ?? Infinity,
      outlets[outlet]?.along ?? Infinity,
    );
    if (first === Infinity)
      return { stops, joins, outlets, middles, pieces: [], placed: null, hasFeeders: false };
    const reach = first + ONE_NODE;
    const firstOutlet = outlet;
    while (outlet < outlets.length && outlets[outlet]!.along < reach) outlet++;
    let along = first;
    let tap = -1;
    const meet = (other: number, at: number): void => {
      if (tap >= 0) joins.push([tap, other]);
      else along = at;
      tap = other;
    };
    // Vertices are counted first, then the joints on edges.
    for (; middle < middles.length && middles[middle]! < reach; middle++) {
      meet(points.length + middle, middles[middle]!);
    }
    for (; vertex < vertexAlong.length && vertexAlong[vertex]! < reach; vertex++) {
      meet(vertex, vertexAlong[vertex]!);
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
