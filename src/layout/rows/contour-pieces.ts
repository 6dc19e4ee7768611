import type { Path, Point } from '../../base/point.ts';
import { distance } from '../../base/point.ts';
import { pathLength } from '../../base/polyline.ts';
import { roundedCorners } from './bends.ts';
import type { CutEnd, Cutter } from './cut-line.ts';
import { levelLines } from './level-lines.ts';
import type { Piece, PieceEnd } from './pieces.ts';
import { straightened } from './ring-walk.ts';
import type { RowField } from './row-field.ts';
import type { RowGrid } from './row-grid.ts';

/**
 * Rows are never nearer to each other than this share of the spacing asked for; where they would be, every other one
 * ends. Where they would be twice as far apart as this, one more begins between: so they lie 35 % nearer to 30 %
 * farther than asked.
 */
export const NEAREST_SHARE = 0.65;
/** Rows between rows between rows: no more than so many times. */
const MOST_HALVINGS = 3;
/** Rows end and begin for stretches of at least so many spacings, or where the ground flickers they would fray. */
const LEAST_STRETCH = 3;

export interface RowLine {
  /** Number of the row, halves and quarters for rows between rows. */
  readonly row: number;
  readonly level: number;
}

/** How often a row may be halved from the rows that are always there: 0 for odd whole numbers, less for 2, 4, 8. */
function orderOf(row: number): number {
  for (let order = -MOST_HALVINGS; order < MOST_HALVINGS; order++) {
    const scaled = row * 2 ** order;
    if (Math.abs(scaled - Math.round(scaled)) < 1e-9) return order;
  }
  return MOST_HALVINGS;
}

/** All rows that may be drawn somewhere, by their levels rising: whole ones, and those between them. */
export function rowLines(levels: readonly number[], leastDensity: number): RowLine[] {
  let halvings = 0;
  while (halvings < MOST_HALVINGS && 2 ** -(halvings + 1) / leastDensity > NEAREST_SHARE) halvings += 1;
  const parts = 2 ** halvings;
  return levels.flatMap((level, i) => {
    const next = levels[i + 1];
    const count = next === undefined ? 1 : parts;
    return Array.from({ length: count }, (_, k) => ({
      row: i + k / parts,
      level: next === undefined ? level : level + ((next - level) * k) / parts,
    }));
  });
}

/** A piece of a row that follows the contour. */
export interface CurvedPiece extends Piece {
  readonly path: Path;
  readonly isClosed: boolean;
}

/** The pieces of all rows that lie in the region, as long as `isLongEnough` has them; `dropped` counts the others. */
export function contourPieces(
  grid: RowGrid,
  field: RowField,
  rows: readonly RowLine[],
  region: Cutter,
  spacingM: number,
  bendM: number,
  isLongEnough: (path: Path) => boolean,
): { readonly pieces: readonly CurvedPiece[]; readonly dropped: number } {
  const pieces: CurvedPiece[] = [];
  let dropped = 0;
  for (const { row, level } of rows) {
    const order = orderOf(row);
    for (const line of levelLines(grid, field.values, level)) {
      const wanted = line.triangles.map(
        (t) => 2 ** -order / Math.max(field.density[t]!, 1e-6) > NEAREST_SHARE,
      );
      for (const path of stretches(line.points, wanted, line.isClosed, LEAST_STRETCH * spacingM)) {
        for (const cut of region.cut(path)) {
          const curve = tidy(cut.path, cut.isClosed, bendM);
          if (!isLongEnough(curve)) {
            dropped += 1;
            continue;
          }
          pieces.push({
            row,
            first: endOf(pieces.length, 'first', cut.first),
            last: endOf(pieces.length, 'last', cut.last),
            path: curve,
            isClosed: cut.isClosed,
          });
        }
      }
    }
  }
  return { pieces, dropped };
}

function endOf(piece: number, side: PieceEnd['side'], { at, ring, along }: CutEnd): PieceEnd {
  return { piece, side, ring, along, at };
}

/** Fewer corners, none sharper than tubing bends; the ends stay. */
function tidy(path: Path, isClosed: boolean, bendM: number): Path {
  if (!isClosed) return roundedCorners(straightened(path), false, bendM);
  const half = path.length >> 1;
  const plain = [...straightened(path.slice(0, half + 1)).slice(0, -1), ...straightened(path.slice(half))];
  return roundedCorners(plain, true, bendM);
}

/** The parts of a line that are wanted. Parts and gaps shorter than a length count as what is round them. */
function stretches(
  points: readonly Point[],
  wanted: readonly boolean[],
  isClosed: boolean,
  leastM: number,
): readonly Path[] {
  const lengths = wanted.map((_, i) => distance(points[i]!, points[i + 1]!));
  const flags = smoothed(smoothed(wanted, lengths, leastM, false), lengths, leastM, true);
  if (flags.every(Boolean)) return [points];
  let [from, order] = [0, points];
  let own = flags;
  if (isClosed) {
    // Begin in a gap, so that no part is cut at the line's own start.
    from = flags.indexOf(false);
    order = [...points.slice(from), ...points.slice(1, from + 1)];
    own = [...flags.slice(from), ...flags.slice(0, from)];
  }
  const parts: Point[][] = [];
  let part: Point[] | null = null;
  own.forEach((want, i) => {
    if (!want) part = null;
    else if (part) part.push(order[i + 1]!);
    else parts.push((part = [order[i]!, order[i + 1]!]));
  });
  return parts.filter((path) => pathLength(path) > 0);
}

/** Flags with runs of one value that are shorter than a length turned over; those at either end stay. */
function smoothed(
  flags: readonly boolean[],
  lengths: readonly number[],
  leastM: number,
  value: boolean,
): readonly boolean[] {
  const out = [...flags];
  for (let i = 0; i < out.length;) {
    let [to, lengthM] = [i, 0];
    while (to < out.length && out[to] === out[i]) lengthM += lengths[to++]!;
    if (out[i] === value && lengthM < leastM && i > 0 && to < out.length) out.fill(!value, i, to);
    i = to;
  }
  return out;
}
