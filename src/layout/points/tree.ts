import { distance, type Point } from '../../base/point.ts';
import { nearestOnSegment } from '../../base/polyline.ts';
import type { WayFinder } from './grid.ts';
import { GROUND, type OpenGround } from './open-ground.ts';
import type { Row } from './rows.ts';

/** Places on one piece of tubing nearer than this are one joint, metres: fittings need that much. */
const FITTING_M = 0.05;
/** A link is as good as straight when it is worth no more than this share above its length. */
const STRAIGHT_SHARE = 1.5 + 1e-9;

/** A line of new tubing while it grows. */
interface Line {
  path: Point[];
}
/** A straight piece that others may join: of a new line, of tubing that is there, or the start. */
interface Piece {
  readonly a: Point;
  readonly b: Point;
  readonly line: Line | null;
}
interface Link {
  /** Metres of bed. */
  readonly worthM: number;
  readonly way: readonly Point[];
  readonly piece: number;
}
interface Waiting {
  readonly key: number;
  readonly row: Row;
  /** The best link that is known. */
  best: Link | null;
  /** Whether ways round are looked for as well. */
  isAimed: boolean;
}
/** Rows for which ways round are looked for are linked straight only to pieces within this, metres. */
const STRAIGHT_TO_M = 8;

/**
 * Joins rows to the start and to each other by the cheapest links, the nearest first (Prim's method, 1957), and gives
 * the tubing as lines in the direction away from the start. A link that runs off the bed or into something is first
 * looked for round it. Every joint is a vertex of both lines.
 * @param isServed whether what a row serves is near enough to tubing drawn meanwhile, so that the row is not needed
 */
export function joinRows(
  rows: readonly Row[],
  start: Point | null,
  existing: readonly (readonly Point[])[],
  ground: OpenGround,
  finder: () => WayFinder,
  isServed: (row: Row, pieces: readonly { readonly a: Point; readonly b: Point }[]) => boolean,
): Point[][] {
  const lines: Line[] = [];
  const pieces: Piece[] = [];
  const looking: { finder: WayFinder | null } = { finder: null };
  let known = 0;
  let waiting = rows.map((row, key): Waiting => ({ key, row, best: null, isAimed: false }));
  let hub: Point | null = start;

  const consider = (one: Waiting, piece: number): void => {
    const mostM = one.best?.worthM ?? Infinity;
    const gapM = apart(pieces[piece]!, one.row);
    if (gapM >= mostM || (one.isAimed && gapM > STRAIGHT_TO_M)) return;
    const [p, q] = link(pieces[piece]!, one.row, hub);
    const length = distance(p, q);
    if (length >= mostM - 1e-9) return;
    const worthM = ground.isPlain ? length : ground.worth(p, q);
    if (worthM < mostM) one.best = { worthM, way: [p, q], piece };
    const isStraight =
      ground.isPlain || (worthM <= length * STRAIGHT_SHARE && ground.worst(p, q) <= GROUND.edge);
    if (isStraight || one.isAimed) return;
    one.isAimed = true;
    looking.finder ??= finder();
    looking.finder.aim(one.key, one.row.a, one.row.b);
  };
  const offer = (from: number): void => {
    for (const one of waiting) for (let k = from; k < pieces.length; k++) consider(one, k);
  };
  const grow = (path: readonly Point[], line: Line): void => {
    for (let i = 1; i < path.length; i++) pieces.push({ a: path[i - 1]!, b: path[i]!, line });
  };

  for (const path of existing) {
    for (let i = 1; i < path.length; i++) pieces.push({ a: path[i - 1]!, b: path[i]!, line: null });
  }
  if (start) pieces.push({ a: start, b: start, line: null });
  if (pieces.length === 0 && waiting.length > 0) {
    // Nothing to begin at: the first row is the trunk.
    const { row } = waiting.shift()!;
    hub = row.a;
    if (distance(row.a, row.b) > FITTING_M) {
      const line = { path: [row.a, row.b] };
      lines.push(line);
      grow(line.path, line);
    } else pieces.push({ a: row.a, b: row.a, line: null });
  }
  offer(0);

  while (waiting.length > 0) {
    let next = waiting[0]!;
    for (const one of waiting) if (worthOf(one) < worthOf(next)) next = one;
    if (lookedRound(worthOf(next))) continue;
    waiting = waiting.filter((one) => one !== next);
    looking.finder?.drop(next.key);
    if (isServed(next.row, pieces)) continue;
    const before = pieces.length;
    attach(next.row, next.best!);
    offer(before);
  }
  return lines.map(({ path }) => path).filter((path) => path.length >= 2);

  /** Takes the next way round into account that may be shorter than a limit; false where there is none. */
  function lookedRound(limitM: number): boolean {
    const finding = looking.finder;
    if (!finding) return false;
    for (; known < pieces.length; known++) finding.grow(pieces[known]!.a, pieces[known]!.b, known);
    const found = finding.nearest(limitM);
    if (!found) return false;
    const one = waiting.find(({ key }) => key === found.key)!;
    const { path, worthM, piece } = found.way;
    if (worthM < worthOf(one)) one.best = { worthM, way: path, piece };
    // Places on the grid are not the nearest ones, so the straight link is tried there too.
    consider(one, piece);
    return true;
  }

  function attach(row: Row, { way, piece }: Link): void {
    const { line } = pieces[piece]!;
    let path = without(way);
    if (line) path = [joint(line, path[0]!), ...path.slice(1)];
    const end = path.at(-1)!;
    const [q, rest] =
      distance(end, row.a) < FITTING_M
        ? [row.a, [row.b]]
        : distance(end, row.b) < FITTING_M
          ? [row.b, [row.a]]
          : [end, null];
    const isRow = distance(row.a, row.b) > FITTING_M;
    const hasLink = pathLength(path) > FITTING_M;
    if (hasLink) path = [...path.slice(0, -1), q];
    else path = [path[0]!];
    const at = path.at(-1)!;
    if (isRow && rest) path = [...path, ...rest];
    if (path.length > 1) {
      if (line && distance(line.path.at(-1)!, path[0]!) < 1e-9) {
        line.path.push(...path.slice(1));
        grow(path, line);
      } else {
        const fresh = { path: [...path] };
        lines.push(fresh);
        grow(path, fresh);
      }
    }
    if (isRow && !rest) {
      const own = { path: [row.a, at, row.b] };
      lines.push(own);
      grow(own.path, own);
    }
    if (!hub) hub = at;
  }
}

function worthOf({ best }: Waiting): number {
  return best?.worthM ?? Infinity;
}

/** Distance between the boxes of two straight pieces, metres: no link is shorter. */
function apart(
  s: { readonly a: Point; readonly b: Point },
  t: { readonly a: Point; readonly b: Point },
): number {
  const gap = (k: 0 | 1): number =>
    Math.max(
      0,
      Math.min(s.a[k], s.b[k]) - Math.max(t.a[k], t.b[k]),
      Math.min(t.a[k], t.b[k]) - Math.max(s.a[k], s.b[k]),
    );
  return Math.hypot(gap(0), gap(1));
}

/** The vertex of a line at a place on it: one that is there, or a new one. */
function joint(line: Line, at: Point): Point {
  let best = { segment: 0, far: Infinity };
  for (let i = 0; i + 1 < line.path.length; i++) {
    const far = nearestOnSegment(line.path[i]!, line.path[i + 1]!, at).distance;
    if (far < best.far - 1e-12) best = { segment: i, far };
  }
  for (const vertex of [line.path[best.segment]!, line.path[best.segment + 1]!]) {
    if (distance(vertex, at) < FITTING_M) return vertex;
  }
  line.path.splice(best.segment + 1, 0, at);
  return at;
}

function without(path: readonly Point[]): Point[] {
  return path.filter((p, i) => i === 0 || i === path.length - 1 || distance(path[i - 1]!, p) > 1e-3);
}

function pathLength(path: readonly Point[]): number {
  return path.reduce((sum, p, i) => (i === 0 ? 0 : sum + distance(path[i - 1]!, p)), 0);
}

/** The shortest straight link from a piece to a row; of equally short ones the nearest to the hub. */
function link(
  piece: { readonly a: Point; readonly b: Point },
  row: Row,
  hub: Point | null,
): readonly [Point, Point] {
  const pairs: (readonly [Point, Point])[] = [];
  const onRow = (p: Point): void => void pairs.push([p, nearestOnSegment(row.a, row.b, p).point]);
  const onPiece = (q: Point): void => void pairs.push([nearestOnSegment(piece.a, piece.b, q).point, q]);
  if (hub) {
    const near = nearestOnSegment(piece.a, piece.b, hub).point;
    onRow(near);
    onPiece(nearestOnSegment(row.a, row.b, hub).point);
  }
  onRow(piece.a);
  onRow(piece.b);
  onPiece(row.a);
  onPiece(row.b);
  let best = pairs[0]!;
  let bestLength = distance(best[0], best[1]);
  for (const pair of pairs) {
    const length = distance(pair[0], pair[1]);
    if (length < bestLength - 1e-6) [best, bestLength] = [pair, length];
  }
  return best;
}
