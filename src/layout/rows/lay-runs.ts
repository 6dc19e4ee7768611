import { distance, type Path, type Point } from '../../base/point.ts';
import type { Ground } from '../../derive/ground/index.ts';
import type { FlushEnd } from '../../plan/records.ts';
import type { FillChoices, NewRun } from './choices.ts';
import type { Frame } from './frame.ts';
import { headersOf, NO_TEES, type Header, type Part, type Tees } from './headers.ts';
import { UnionFind } from '../../derive/network/union-find.ts';
import { firstOnClosed } from './closed-emitters.ts';
import type { EdgeRing, Piece, PieceEnd } from './pieces.ts';
import { serpentines } from './serpentine.ts';

/** Runs with what comes of joining them. */
export interface LaidRuns {
  readonly runs: readonly NewRun[];
  readonly flushEnds: readonly { readonly run: number; readonly end: FlushEnd['end'] }[];
  readonly starts: readonly Point[];
  /** Headers besides one for supply and one for flushing in each part. */
  readonly furtherHeaders: number;
}

export interface Scene {
  readonly ground: Ground;
  readonly frame: Frame;
  readonly rings: readonly EdgeRing[];
  readonly pieces: readonly Piece[];
  readonly choices: FillChoices;
  readonly tees?: Tees;
  /** Where water comes from, if something on the plan says so. */
  readonly source: Point | null;
}

export function layRuns(scene: Scene): LaidRuns {
  switch (scene.choices.headers) {
    case 'serpentine':
      return layBackAndForth(scene);
    case 'none':
      return layRows(scene);
    default:
      return layWithHeaders(scene);
  }
}

/** Rows alone: each begins on that side which is, taken together, nearer to the water, and wants water there. */
function layRows(scene: Scene): LaidRuns {
  const { pieces, source } = scene;
  const away = (side: PieceEnd['side']): number =>
    source ? pieces.reduce((sum, piece) => sum + distance(source, piece[side].at), 0) : 0;
  const side = away('last') < away('first') ? 'last' : 'first';
  const runs = rowRuns(scene, () => side);
  return { runs, flushEnds: [], starts: runs.map(({ path }) => path[0]!), furtherHeaders: 0 };
}

function layBackAndForth(scene: Scene): LaidRuns {
  const { rings, frame, pieces, choices, source, tees = NO_TEES } = scene;
  const away = (at: Point): number => (source ? distance(source, at) : scene.ground.heightAt(at).zM);
  const nearest = (lines: readonly Path[]): number =>
    lines.reduce((best, line) => Math.min(best, away(line[0]!), away(line.at(-1)!)), Infinity);
  const ways = (['last', 'first'] as const).map((turn) => serpentines(rings, frame, pieces, turn));
  const { lines, lineOf } = least(ways, (way) => nearest(way.lines));
  const runs = lines.map((line, i): NewRun => ({
    name: lines.length > 1 ? `Row line ${i + 1}` : 'Row line',
    path: away(line.at(-1)!) < away(line[0]!) ? line.toReversed() : line,
    tubing: choices.tubing,
    inline: { ...emitters(choices), firstM: choices.emitterSpacingM / 2 },
  }));
  // Lines that tees join need water once; their ends at tees are no flush ends.
  const groups = new UnionFind(lines.length);
  for (const { piece, to } of tees.tees) groups.join(lineOf[piece]!, lineOf[to]!);
  const isTee = new Set([...tees.ends].map(({ at }) => at));
  const first = new Map<number, number>();
  runs.forEach(({ path }, i) => {
    const known = first.get(groups.root(i));
    if (known === undefined || away(path[0]!) < away(runs[known]!.path[0]!)) first.set(groups.root(i), i);
  });
  const starts = [...first.values()].map((i) => runs[i]!.path[0]!);
  const flushEnds = runs.flatMap(({ path }, run) =>
    (['start', 'end'] as const).flatMap((end) => {
      const at = end === 'end' ? path.at(-1)! : path[0]!;
      const isDone = isTee.has(at) || (end === 'start' && starts.includes(at));
      return isDone ? [] : [{ run, end }];
    }),
  );
  teeRuns(scene, runs);
  return { runs, flushEnds, starts, furtherHeaders: 0 };
}

const emitters = ({ law, ratedFlowLph, emitterSpacingM }: FillChoices) => ({
  law,
  ratedFlowLph,
  spacingM: emitterSpacingM,
});

/** No emitter sits nearer than this share of a spacing to where its row begins: the fitting is there. */
const LEAST_FIRST = 0.1;

/**
 * One run a piece, from the side that is given. Emitters stand on a grid that is common to all rows, so that those of
 * every other row fall between the others' whatever the shape of the bed.
 */
function rowRuns(scene: Scene, startSide: (piece: number) => PieceEnd['side']): NewRun[] {
  const { pieces, choices, frame } = scene;
  const spacing = choices.emitterSpacingM;
  const countOf = new Map<number, number>();
  for (const { row } of pieces) countOf.set(row, (countOf.get(row) ?? 0) + 1);
  const used = new Map<number, number>();
  const line = new Map([...countOf.keys()].toSorted((a, b) => a - b).map((row, i) => [row, i + 1]));
  // The grid begins half a spacing from where most rows do.
  const startU = (piece: Piece, side: PieceEnd['side']) =>
    frame.toFrame(piece[side].at)[0] * (side === 'first' ? 1 : -1);
  const zero = pieces.length
    ? least(
        pieces.map((piece, i) => startU(piece, startSide(i))),
        (u) => u,
      )
    : 0;
  return pieces.map((piece, i): NewRun => {
    const side = startSide(i);
    const drawn = piece.path ?? [piece.first.at, piece.last.at];
    const path = side === 'first' ? drawn : drawn.toReversed();
    const nth = (used.get(piece.row) ?? 0) + 1;
    used.set(piece.row, nth);
    const number = line.get(piece.row)!;
    const letter = countOf.get(piece.row)! > 1 ? suffix(nth) : '';
    const phase = choices.stagger && number % 2 === 0 ? 1 : 0.5;
    const firstM = piece.path
      ? firstOnCurve(scene.ground, piece, path, side, phase === 1, spacing)
      : wrapped(zero + phase * spacing - startU(piece, side), spacing);
    return {
      name: `Row ${number}${letter}`,
      path,
      tubing: choices.tubing,
      inline: { ...emitters(choices), firstM },
    };
  });
}

/** On curved rows emitters keep step where the guide across them passes. */
function firstOnCurve(
  ground: Ground,
  { guideM, isClosed }: Piece,
  path: Path,
  side: PieceEnd['side'],
  isOnHalf: boolean,
  spacing: number,
): number {
  if (guideM === undefined && !isClosed) return isOnHalf ? spacing : spacing / 2;
  const lengthM = ground.surfaceLength(path);
  if (isClosed) return firstOnClosed(lengthM, spacing);
  const guide = side === 'first' ? guideM! : lengthM - guideM!;
  return wrapped(guide + (isOnHalf ? spacing / 2 : 0), spacing);
}

function wrapped(value: number, spacing: number): number {
  const rest = value - Math.floor(value / spacing) * spacing;
  return rest < LEAST_FIRST * spacing ? rest + spacing : rest;
}

function suffix(nth: number): string {
  return nth <= 26 ? String.fromCharCode(96 + nth) : `-${nth}`;
}

function layWithHeaders(scene: Scene): LaidRuns {
  const { rings, frame, pieces, choices, tees = NO_TEES } = scene;
  const parts = headersOf(rings, frame, pieces, tees);
  const chosen = parts.map((part) => chooseHeaders(scene, part));
  const sideOf = new Map<number, PieceEnd['side']>();
  parts.forEach(({ pieces: own }, p) => own.forEach((piece) => sideOf.set(piece, chosen[p]!.side)));
  const runs = rowRuns(scene, (piece) => sideOf.get(piece)!);
  const flushEnds: { run: number; end: FlushEnd['end'] }[] = [];
  const starts: Point[] = [];
  const header = (name: string, path: readonly Point[]): number =>
    runs.push({ name, path, tubing: choices.headerTubing, inline: null }) - 1;
  teeRuns(scene, runs);
  let further = 0;
  parts.forEach(({ free, headers }, p) => {
    const { supply, flush, start } = chosen[p]!;
    const number = parts.length > 1 ? ` ${p + 1}` : '';
    starts.push(start);
    if (supply) header(`Supply header${number}`, supply);
    if (flush) flushEnds.push({ run: header(`Flush header${number}`, flush), end: 'end' });
    for (const { path, isLoop } of headers.filter((one) => !chosen[p]!.used.includes(one))) {
      further += 1;
      header(isLoop ? `Loop ${further}` : `Header ${further}`, path);
    }
    for (const end of free) {
      if (end.at === start) continue;
      flushEnds.push({ run: end.piece, end: end.side === sideOf.get(end.piece) ? 'start' : 'end' });
    }
  });
  return { runs, flushEnds, starts, furtherHeaders: further };
}

function teeRuns({ tees, choices }: Scene, runs: NewRun[]): void {
  tees?.tees.forEach(({ path }, i) => {
    if (distance(path[0]!, path[1]!) > 1e-6)
      runs.push({ name: `Tee ${i + 1}`, path, tubing: choices.headerTubing, inline: null });
  });
}

interface Chosen {
  /** Paths from the start of the water, and to the place to be opened. */
  readonly supply: readonly Point[] | null;
  readonly flush: readonly Point[] | null;
  readonly used: readonly Header[];
  readonly start: Point;
  /** On which side rows begin. */
  readonly side: PieceEnd['side'];
}

/** Supply header: of the long ones that with an end nearest to the water, else the lowest end. Flush header: across. */
function chooseHeaders({ ground, source, pieces }: Scene, { headers, free, pieces: own }: Part): Chosen {
  const away = (at: Point): number => (source ? distance(source, at) : ground.heightAt(at).zM);
  const tips = (header: Header): readonly Point[] =>
    header.isLoop ? header.path.slice(1) : [header.path[0]!, header.path.at(-1)!];
  const edge = headers.filter(({ onOuter }) => onOuter);
  const most = Math.max(0, ...edge.map(({ ends }) => ends.length));
  const long = edge.filter(({ ends }) => ends.length * 2 >= most);
  if (long.length === 0) {
    const tipsFree = free.length ? free : own.flatMap((i) => [pieces[i]!.first, pieces[i]!.last]);
    const first = least(tipsFree, ({ at }) => away(at));
    return { supply: null, flush: null, used: [], start: first.at, side: first.side };
  }
  const supply = least(long, (header) => Math.min(...tips(header).map(away)));
  const start = least(tips(supply), away);
  const fed = new Set(supply.ends.map(({ piece }) => piece));
  const across = headers.filter((header) => header !== supply && header.onOuter && !header.isLoop);
  // A header in a notch has water passing through to rows on its other side: it is the one to open last.
  const passes = ({ ends }: Header): boolean => ends.some(({ side }) => side !== ends[0]!.side);
  const flush = across.length
    ? least(
        across,
        (header) =>
          (passes(header) ? pieces.length : 0) - header.ends.filter(({ piece }) => fed.has(piece)).length,
      )
    : null;
  const onFirst = supply.ends.filter(({ side }) => side === 'first').length;
  const low = (at: Point): number => ground.heightAt(at).zM - distance(start, at) * 1e-6;
  return {
    supply: from(supply, start),
    flush: flush && from(flush, least(tips(flush), low)).toReversed(),
    used: flush ? [supply, flush] : [supply],
    start,
    side: onFirst * 2 >= supply.ends.length ? 'first' : 'last',
  };
}

/** The header's path with a tip of it as its start. */
function from({ path, isLoop }: Header, start: Point): readonly Point[] {
  if (!isLoop) return path[0] === start ? path : path.toReversed();
  const i = path.indexOf(start);
  return [...path.slice(i), ...path.slice(1, i + 1)];
}

function least<T extends NonNullable<unknown>>(list: readonly T[], of: (one: T) => number): T {
  let best = list[0]!;
  let value = of(best);
  for (const one of list) {
    const other = of(one);
    if (other < value) [best, value] = [one, other];
  }
  return best;
}
