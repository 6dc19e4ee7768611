import { directionDeg, distance, polar, shifted, type Path, type Point } from '../../base/point.ts';
import { pathLength } from '../../base/polyline.ts';
import { isSpacing, MOST_PLANTS, NO_SPACING, tooMany, type Stems } from './limits.ts';

/** How plants stand along a line. */
export interface RowChoices {
  /** From stem to stem along the line, metres in plan. */
  readonly spacingM: number;
  /** The first stem from the line's start, metres. */
  readonly firstM: number;
  /** One stem at either end and the others evenly between, no closer than the spacing; `firstM` is not used then. */
  readonly bothEnds: boolean;
  /** So many rows side by side, the others to the left of the line drawn. */
  readonly rows: number;
  /** From row to row, metres in plan. */
  readonly rowSpacingM: number;
  /** Every other row is half a spacing on. */
  readonly stagger: boolean;
}

/** Distances along a line of one length, metres. */
function alongs(lengthM: number, { spacingM, firstM, bothEnds }: RowChoices, onM: number): number[] {
  // What is left out by a hair of rounding still has its plant.
  const hair = 1e-9 * Math.max(1, lengthM);
  if (bothEnds) {
    const gaps = Math.floor((lengthM + hair) / spacingM);
    if (gaps < 1) return [onM > 0 ? lengthM / 2 : 0];
    const step = lengthM / gaps;
    // The staggered row stands in the gaps of the one beside it.
    return onM > 0
      ? Array.from({ length: gaps }, (_, i) => (i + 0.5) * step)
      : Array.from({ length: gaps + 1 }, (_, i) => i * step);
  }
  const start = Math.max(0, firstM) + onM;
  const count = Math.floor((lengthM - start + hair) / spacingM) + 1;
  return Array.from({ length: Math.max(0, count) }, (_, i) => start + i * spacingM);
}

/** Places at rising distances along a path, found in one walk. */
function placesAlong(path: Path, rising: readonly number[]): Point[] {
  const places: Point[] = [];
  let before = 0;
  let i = 1;
  for (const along of rising) {
    while (i < path.length - 1 && before + distance(path[i - 1]!, path[i]!) < along) {
      before += distance(path[i - 1]!, path[i]!);
      i++;
    }
    const [a, b] = [path[i - 1]!, path[i]!];
    const left = Math.min(along - before, distance(a, b));
    places.push(left <= 0 ? a : polar(a, left, directionDeg(a, b)));
  }
  return places;
}

/**
 * Stems along a drawn line, and along copies of it set off to its left. Nothing where the line is shorter than the
 * first offset; a reason where the spacing is no spacing or the plants are too many.
 * @param path at least two points, metres
 */
export function plantsAlong(path: Path, choices: RowChoices): Stems {
  if (!isSpacing(choices.spacingM)) return { ok: false, why: NO_SPACING };
  const rows = Math.max(1, Math.floor(Number.isFinite(choices.rows) ? choices.rows : 1));
  if (rows > 1 && !isSpacing(choices.rowSpacingM))
    return { ok: false, why: 'Rows must be at least 0.05 m (2 in) apart.' };
  const clean = path.filter((p, i) => i === 0 || distance(path[i - 1]!, p) > 0);
  const lengthM = pathLength(clean);
  if (clean.length < 2 || !Number.isFinite(lengthM)) return { ok: true, points: [] };
  const about = (lengthM / choices.spacingM + 1) * rows;
  if (about > MOST_PLANTS + rows) return { ok: false, why: tooMany(about) };
  const leftDeg = directionDeg(clean[0]!, clean.at(-1)!) + 90;
  const [dx, dy] = polar([0, 0], choices.rowSpacingM, leftDeg);
  // Rows that are staggered differ, all others are alike.
  const even = placesAlong(clean, alongs(lengthM, choices, 0));
  const odd =
    choices.stagger && rows > 1 ? placesAlong(clean, alongs(lengthM, choices, choices.spacingM / 2)) : even;
  return {
    ok: true,
    points: Array.from({ length: rows }, (_, row) =>
      (row % 2 ? odd : even).map((p) => (row === 0 ? p : shifted(p, row * dx, row * dy))),
    ).flat(),
  };
}
