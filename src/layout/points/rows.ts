import type { Point } from '../../base/point.ts';
import { GROUND, type GroundKind, type OpenGround } from './open-ground.ts';

/** A straight piece of tubing and the emitters that it serves; both ends are one place for a single emitter. */
export interface Row {
  readonly a: Point;
  readonly b: Point;
  /** Numbers of the targets. */
  readonly serves: readonly number[];
}

/** Share of the reach that a row is away from its outermost emitters at most, so that it may end short of the edge. */
const REACH_SHARE = 0.94;
/** A row passes stems at this distance where it can, metres. */
const STEM_M = 0.15;
/** One stem hit weighs as much as this length of feeders, metres. */
const STEM_WORTH_M = 1;
const TRIES = 24;
/** After so many heights the best that was found is taken. */
const GOOD_TRIES = 4;

interface Turned {
  readonly u: number;
  readonly v: number;
}

/**
 * Covers places with parallel straight rows, each place within `reachM` of its row in plan and in sight of it. Swept
 * from one side: the row goes where the place furthest back is still reached and the feeders are short, off the stems.
 * @param wayDeg direction of the rows
 * @param worst kind of ground that rows may lie on
 */
export function coverByRows(
  targets: readonly Point[],
  stems: readonly Point[],
  wayDeg: number,
  reachM: number,
  ground: OpenGround,
  worst: GroundKind,
): Row[] {
  const cos = Math.cos((wayDeg * Math.PI) / 180);
  const sin = Math.sin((wayDeg * Math.PI) / 180);
  const turned = (p: Point): Turned => ({ u: p[0] * cos + p[1] * sin, v: p[1] * cos - p[0] * sin });
  const back = (u: number, v: number): Point => [u * cos - v * sin, u * sin + v * cos];
  const all = targets.map(turned);
  const order = targets
    .map((_, i) => i)
    .sort((i, j) => all[i]!.v - all[j]!.v || all[i]!.u - all[j]!.u || i - j);
  const stemVs = stems.map((p) => turned(p).v).sort((p, q) => p - q);
  const h = reachM * REACH_SHARE;
  // Well inside of the bed, or else anywhere that is allowed.
  const kinds = ground.isPlain || worst > GROUND.edge ? [worst] : [GROUND.bed, worst];
  const served = new Uint8Array(targets.length);
  const rows: Row[] = [];
  let first = 0;
  while (first < order.length) {
    if (served[order[first]!] === 1) {
      first += 1;
      continue;
    }
    const lead = order[first]!;
    const vMin = all[lead]!.v;
    const members: number[] = [];
    for (let k = first; k < order.length && all[order[k]!]!.v <= vMin + 2 * h; k++) {
      if (served[order[k]!] === 0) members.push(order[k]!);
    }
    let best: { readonly rows: Row[]; readonly count: number } | null = null;
    const tries = heights(
      members.map((i) => all[i]!.v),
      h,
      stemVs,
    );
    for (const kind of kinds) {
      for (const [k, v] of tries.entries()) {
        const found = rowsAt(v, kind, members);
        const count = found.reduce((sum, { serves }) => sum + serves.length, 0);
        if (!found.some(({ serves }) => serves.includes(lead))) continue;
        if (!best || count > best.count) best = { rows: found, count };
        if (count === members.length || k >= GOOD_TRIES) break;
      }
      if (best) break;
    }
    for (const row of best?.rows ?? [spot(targets, lead, members, reachM, ground)]) {
      rows.push(row);
      for (const i of row.serves) served[i] = 1;
    }
  }
  return rows;

  /** The pieces of the line at `v` that serve any member, cut to those members. */
  function rowsAt(v: number, kind: GroundKind, members: readonly number[]): Row[] {
    const us = members.map((i) => all[i]!.u);
    const low = Math.min(...us) - reachM;
    const high = Math.max(...us) + reachM;
    const pieces = ground.isPlain
      ? [{ low, high }]
      : joined(
          ground
            .stretches(back(low, v), back(high, v))
            .filter((stretch) => stretch.kind <= kind)
            .map(({ from, to }) => ({ low: low + from * (high - low), high: low + to * (high - low) })),
        );
    const serves = pieces.map((): number[] => []);
    for (const i of members) {
      const { u, v: own } = all[i]!;
      let bestPiece = -1;
      let bestGap = Infinity;
      pieces.forEach((piece, k) => {
        const gap = Math.max(0, piece.low - u, u - piece.high);
        if (gap >= bestGap || Math.hypot(gap, own - v) > reachM) return;
        const tap = back(Math.min(piece.high, Math.max(piece.low, u)), v);
        if (ground.crossesHard(tap, targets[i]!)) return;
        [bestPiece, bestGap] = [k, gap];
      });
      if (bestPiece >= 0) serves[bestPiece]!.push(i);
    }
    return pieces.flatMap((piece, k) => {
      const own = serves[k]!;
      if (own.length === 0) return [];
      const clamp = (u: number): number => Math.min(piece.high, Math.max(piece.low, u));
      const ends = own.map((i) => clamp(all[i]!.u));
      return [{ a: back(Math.min(...ends), v), b: back(Math.max(...ends), v), serves: own }];
    });
  }
}

/** Pieces that touch count as one. */
function joined(
  pieces: readonly { readonly low: number; readonly high: number }[],
): { low: number; high: number }[] {
  const kept: { low: number; high: number }[] = [];
  for (const piece of pieces) {
    const last = kept.at(-1);
    if (last && piece.low - last.high < 1e-9) last.high = piece.high;
    else kept.push({ ...piece });
  }
  return kept;
}

/** Where a row may lie to reach the first of its members, best first: short feeders, few stems in its way. */
function heights(vs: readonly number[], h: number, stemVs: readonly number[]): number[] {
  const vMin = Math.min(...vs);
  const vMax = Math.max(...vs);
  // All members are reached between these; where they lie on one line, a little to its sides as well.
  const low = Math.max(vMin - h * 0.5, vMax - h);
  const high = Math.min(vMin + h, vMax + h * 0.5);
  const scored = Array.from({ length: TRIES + 1 }, (_, i) => {
    const v = low + ((high - low) * i) / TRIES;
    const feeders = vs.reduce((sum, own) => sum + Math.abs(own - v), 0);
    return { v, score: feeders + STEM_WORTH_M * countWithin(stemVs, v - STEM_M, v + STEM_M) };
  });
  scored.sort((p, q) => p.score - q.score || p.v - q.v);
  return scored.map(({ v }) => v);
}

function countWithin(sorted: readonly number[], low: number, high: number): number {
  return lowerBound(sorted, high) - lowerBound(sorted, low);
}

function lowerBound(sorted: readonly number[], value: number): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]! < value) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** A single place for an emitter that no row reaches, with those of the members that it reaches as well. */
function spot(
  targets: readonly Point[],
  lead: number,
  members: readonly number[],
  reachM: number,
  ground: OpenGround,
): Row {
  const at = targets[lead]!;
  const serves = members.filter((i) => {
    const p = targets[i]!;
    if (Math.hypot(p[0] - at[0], p[1] - at[1]) > reachM * REACH_SHARE) return false;
    return i === lead || !ground.crossesHard(at, p);
  });
  return { a: at, b: at, serves };
}
