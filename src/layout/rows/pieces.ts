import type { Path, Point, Ring } from '../../base/point.ts';
import type { Region } from '../../base/clip.ts';
import { ringArea } from '../../base/polygon.ts';
import type { Frame } from './frame.ts';

/** One end of a piece of row, on the ring that it was cut at. */
export interface PieceEnd {
  readonly piece: number;
  /** The end at lower u, or the other; of a curved row that from which higher ground lies to the left. */
  readonly side: 'first' | 'last';
  /** -1 where the row ends within the region. */
  readonly ring: number;
  /** Place along the ring: number of the edge and share of it. */
  readonly along: number;
  readonly at: Point;
}

/** A piece of a row that lies in the region. */
export interface Piece {
  readonly row: number;
  readonly first: PieceEnd;
  readonly last: PieceEnd;
  /** From the first end to the last, where the row is curved. */
  readonly path?: Path;
  readonly isClosed?: boolean;
  /** On the ground from the first end to the place at which emitters of all rows stand side by side, metres. */
  readonly guideM?: number;
}

/** A ring of the region where rows may lie, on the plan and in the frame. */
export interface EdgeRing {
  readonly plan: Ring;
  readonly inFrame: Ring;
  /** Ground lies inside of it; else it is the edge of something left out. */
  readonly isOuter: boolean;
}

export function edgeRings(region: Region, frame: Frame): EdgeRing[] {
  return region.map((ring) => ({
    plan: ring,
    inFrame: ring.map(frame.toFrame),
    isOuter: ringArea(ring) > 0,
  }));
}

interface Cut {
  readonly u: number;
  readonly ring: number;
  readonly along: number;
}

/** Where a line across the frame at `v` enters and leaves the region, in order. */
export function cutsAt(rings: readonly EdgeRing[], v: number): readonly (readonly [Cut, Cut])[] {
  const cuts: Cut[] = [];
  rings.forEach(({ inFrame }, ring) => {
    for (let i = 0; i < inFrame.length; i++) {
      const a = inFrame[i]!;
      const b = inFrame[(i + 1) % inFrame.length]!;
      // Half-open, so that a corner on the line counts once.
      if (a[1] > v === b[1] > v) continue;
      const t = (v - a[1]) / (b[1] - a[1]);
      cuts.push({ u: a[0] + (b[0] - a[0]) * t, ring, along: i + t });
    }
  });
  cuts.sort((a, b) => a.u - b.u);
  const pairs: [Cut, Cut][] = [];
  for (let i = 0; i + 1 < cuts.length; i += 2) pairs.push([cuts[i]!, cuts[i + 1]!]);
  return pairs;
}

/** The pieces of all rows at least so long in plan, and how many were shorter. */
export function piecesOf(
  rings: readonly EdgeRing[],
  frame: Frame,
  rows: readonly number[],
  isLongEnough: (a: Point, b: Point) => boolean,
): { readonly pieces: readonly Piece[]; readonly dropped: number } {
  const pieces: Piece[] = [];
  let dropped = 0;
  rows.forEach((v, row) => {
    for (const [a, b] of cutsAt(rings, v)) {
      const [from, to] = [frame.toPlan([a.u, v]), frame.toPlan([b.u, v])];
      if (!isLongEnough(from, to)) {
        dropped += 1;
        continue;
      }
      const piece = pieces.length;
      pieces.push({
        row,
        first: { piece, side: 'first', ring: a.ring, along: a.along, at: from },
        last: { piece, side: 'last', ring: b.ring, along: b.along, at: to },
      });
    }
  });
  return { pieces, dropped };
}

/** Rows on the very edge of a region may miss it by rounding: they start so far inside, metres. */
const INSIDE_M = 1e-4;

/**
 * Between which v rows can lie: where a row holds a piece of a least length, looked for inwards from both edges.
 * `null` where there is no such place.
 */
export function rowRange(
  rings: readonly EdgeRing[],
  leastM: number,
): { readonly fromV: number; readonly toV: number; readonly middleU: number } | null {
  let [minU, maxU, minV, maxV] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const { inFrame } of rings) {
    for (const [u, v] of inFrame) {
      [minU, maxU] = [Math.min(minU, u), Math.max(maxU, u)];
      [minV, maxV] = [Math.min(minV, v), Math.max(maxV, v)];
    }
  }
  if (!(maxV - minV > 2 * INSIDE_M)) return null;
  const holds = (v: number): boolean => cutsAt(rings, v).some(([a, b]) => b.u - a.u >= leastM);
  const fromV = firstThat(holds, minV + INSIDE_M, maxV - INSIDE_M);
  const toV = firstThat(holds, maxV - INSIDE_M, minV + INSIDE_M);
  return fromV === null || toV === null ? null : { fromV, toV, middleU: (minU + maxU) / 2 };
}

const SAMPLES = 400;

/** The first value from one towards another for which something holds, or `null`. */
export function firstThat(holds: (v: number) => boolean, from: number, to: number): number | null {
  if (holds(from)) return from;
  for (let k = 1; k <= SAMPLES; k++) {
    let good = from + ((to - from) * k) / SAMPLES;
    if (!holds(good)) continue;
    let bad = from + ((to - from) * (k - 1)) / SAMPLES;
    for (let half = 0; half < 20; half++) {
      const middle = (good + bad) / 2;
      if (holds(middle)) good = middle;
      else bad = middle;
    }
    return good;
  }
  return null;
}
