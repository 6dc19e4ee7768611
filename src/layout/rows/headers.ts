import type { Path, Point } from '../../base/point.ts';
import { UnionFind } from '../../derive/network/union-find.ts';
import type { Frame } from './frame.ts';
import type { EdgeRing, Piece, PieceEnd } from './pieces.ts';
import { endsByRing, gapAfter, withoutRepeats, type Gap } from './ring-walk.ts';

/** A header: blank tubing along a ring that joins ends of rows. */
export interface Header {
  readonly ends: readonly PieceEnd[];
  readonly path: Path;
  /** It comes back to its start. */
  readonly isLoop: boolean;
  readonly onOuter: boolean;
}

/** Pieces and headers that hang together. */
export interface Part {
  readonly pieces: readonly number[];
  readonly headers: readonly Header[];
  /** Ends of pieces on no header. */
  readonly free: readonly PieceEnd[];
}

/** Pieces that are joined within the bed, and the ends that have such a joint. */
export interface Tees {
  readonly tees: readonly { readonly piece: number; readonly to: number; readonly path: Path }[];
  readonly ends: ReadonlySet<PieceEnd>;
}
export const NO_TEES: Tees = { tees: [], ends: new Set() };

interface RingGap extends Gap {
  readonly onOuter: boolean;
  /** What the ring does between the two ends: runs on along one side of the rows, turns round the last row, or passes
   * from the end of one row to the start of another in a notch or round something left out. */
  readonly kind: 'side' | 'cap' | 'notch';
}

/**
 * Headers along both ends of rows. On each ring neighbouring ends of one side of the rows are joined. Round something
 * left out both sides are joined as well, so that water passes it; in a notch of the bed they are where each side joins
 * several rows, or where the rows would not hang together otherwise. Never round the last row: that keeps supply and
 * flush header apart.
 */
export function headersOf(
  rings: readonly EdgeRing[],
  frame: Frame,
  pieces: readonly Piece[],
  tees: Tees = NO_TEES,
): readonly Part[] {
  const ends = pieces.flatMap(({ first, last }) => [first, last]);
  const numberOf = new Map(ends.map((end, i) => [end, i]));
  const groups = new UnionFind(ends.length);
  const join = (a: PieceEnd, b: PieceEnd): void => groups.join(numberOf.get(a)!, numberOf.get(b)!);
  for (const { first, last } of pieces) join(first, last);
  for (const { piece, to } of tees.tees) join(pieces[piece]!.first, pieces[to]!.first);

  const ringGaps = endsByRing(ends).map((list) => gapsRound(rings, frame, list));
  for (const gaps of ringGaps) {
    for (const gap of gaps)
      if (gap.kind === 'side' || (gap.kind === 'notch' && !gap.onOuter)) join(gap.from, gap.to);
  }
  const sides = new Map<PieceEnd, number>();
  for (const gaps of ringGaps) noteSides(gaps, sides);
  const kept = ringGaps.map((gaps) => {
    const keep = gaps.map((gap) => {
      if (gap.kind === 'cap') return false;
      if (gap.kind === 'side' || !gap.onOuter) return true;
      const apart = groups.root(numberOf.get(gap.from)!) !== groups.root(numberOf.get(gap.to)!);
      if (!apart && (sides.get(gap.from)! < 2 || sides.get(gap.to)! < 2)) return false;
      join(gap.from, gap.to);
      return true;
    });
    return openedWhereOneSided(gaps, keep);
  });

  const headers = ringGaps.flatMap((gaps, i) => chains(gaps, kept[i]!));
  const onHeader = new Set(headers.flatMap((header) => header.ends));
  const parts = new Map<number, { pieces: number[]; headers: Header[]; free: PieceEnd[] }>();
  const partOf = (end: PieceEnd) => {
    const root = groups.root(numberOf.get(end)!);
    let part = parts.get(root);
    if (!part) parts.set(root, (part = { pieces: [], headers: [], free: [] }));
    return part;
  };
  pieces.forEach(({ first }, i) => partOf(first).pieces.push(i));
  for (const header of headers) partOf(header.ends[0]!).headers.push(header);
  for (const end of ends) if (!onHeader.has(end) && !tees.ends.has(end)) partOf(end).free.push(end);
  return [...parts.values()];
}

function gapsRound(rings: readonly EdgeRing[], frame: Frame, ends: readonly PieceEnd[]): RingGap[] {
  if (ends.length < 2) return [];
  return ends.map((from, i) => {
    const to = ends[(i + 1) % ends.length]!;
    const kind = from.side === to.side ? 'side' : from.piece === to.piece ? 'cap' : 'notch';
    return { ...gapAfter(rings, frame, from, to), onOuter: rings[from.ring]!.isOuter, kind };
  });
}

/** How many ends hang together on one side, for each end. */
function noteSides(gaps: readonly RingGap[], sides: Map<PieceEnd, number>): void {
  for (const chain of runsOf(
    gaps,
    gaps.map(({ kind }) => kind === 'side'),
  )) {
    for (const end of chain.ends) sides.set(end, chain.ends.length);
  }
  for (const { from } of gaps) if (!sides.has(from)) sides.set(from, 1);
}

/** A loop that joins one side of rows only needs no way back: its longest piece goes. */
function openedWhereOneSided(gaps: readonly RingGap[], keep: readonly boolean[]): readonly boolean[] {
  if (gaps.length === 0 || keep.includes(false) || gaps.some(({ kind }) => kind !== 'side')) return keep;
  const longest = gaps.reduce((best, gap, i) => (gap.lengthM > gaps[best]!.lengthM ? i : best), 0);
  return keep.map((_, i) => i !== longest);
}

/** Gaps in a row that are kept, with the ends that they join. */
function runsOf(
  gaps: readonly RingGap[],
  keep: readonly boolean[],
): { readonly gaps: readonly RingGap[]; readonly ends: readonly PieceEnd[]; readonly isLoop: boolean }[] {
  const n = gaps.length;
  if (n === 0) return [];
  const open = keep.indexOf(false);
  if (open < 0) return [{ gaps, ends: gaps.map(({ from }) => from), isLoop: true }];
  const found: { gaps: RingGap[]; ends: PieceEnd[]; isLoop: boolean }[] = [];
  let run: RingGap[] = [];
  const close = (): void => {
    if (run.length)
      found.push({ gaps: run, ends: [run[0]!.from, ...run.map(({ to }) => to)], isLoop: false });
    run = [];
  };
  for (let k = 1; k <= n; k++) {
    const i = (open + k) % n;
    if (keep[i]) run.push(gaps[i]!);
    else close();
  }
  close();
  return found;
}

function chains(gaps: readonly RingGap[], keep: readonly boolean[]): Header[] {
  return runsOf(gaps, keep).flatMap((run) => {
    const points: Point[] = [run.gaps[0]!.from.at];
    for (const { between, to } of run.gaps) points.push(...between, to.at);
    const path = withoutRepeats(points);
    const { ends, isLoop } = run;
    return path.length < 2 ? [] : [{ ends, path, isLoop, onOuter: run.gaps[0]!.onOuter }];
  });
}
