import { memo } from '../../base/memo.ts';
import { boxOf, distance, type Box, type Path, type Point } from '../../base/point.ts';
import type { UnitSystem } from '../../base/quantity.ts';
import { FOOT_M } from '../../base/units.ts';
import type { Plan } from '../../plan/records.ts';
import { clippedToBox, type Face } from './faces.ts';
import { groundOf, type Ground } from './index.ts';
import { joinedPieces, type Piece } from './join-pieces.ts';

/** A line of one height. */
export interface ContourLine {
  /** Higher ground lies to its left; the first place is not repeated at the end of a closed line. */
  readonly path: Path;
  readonly closed: boolean;
  /** Whether it runs where the ground is carried on beyond the levels. */
  readonly outside: boolean;
}

/** All lines of one height. */
export interface Contour {
  readonly zM: number;
  /** Every fifth one, counted from the datum. */
  readonly index: boolean;
  readonly lines: readonly ContourLine[];
}

/** More heights than this between the lowest and the highest level cannot be read, and are not drawn. */
export const MOST_CONTOURS = 200;
/** So many heights below and above what was measured are drawn where the ground is carried on. */
const BEYOND = 20;
const INDEX_EVERY = 5;

/** A corner as near to a height as this, for each metre of height, lies on it. */
const ON_IT = 1e-9;

/**
 * Contour lines at all multiples of an interval, exact on the plane pieces, within a box. A piece of ground that lies
 * level at just such a height is bounded where it goes down, and is not crossed. None where the interval is too fine for
 * the levels (`MOST_CONTOURS`).
 * @param intervalM metres, above 0
 */
export function contoursOf(ground: Ground, intervalM: number, box: Box): Contour[] {
  if (!(intervalM > 0) || !(box.maxX > box.minX) || !(box.maxY > box.minY)) return [];
  const [lowest, highest] = heightRange(ground) ?? [0, 0];
  if (!((highest - lowest) / intervalM <= MOST_CONTOURS)) return [];
  const fewest = Math.floor(lowest / intervalM) - BEYOND;
  const most = Math.ceil(highest / intervalM) + BEYOND;
  const steps = new Map<number, { inside: Piece[]; outside: Piece[] }>();
  for (const face of ground.faces(box)) {
    const slack = ON_IT * (1 + Math.max(...face.zM.map(Math.abs)));
    const [low, high] = heightsIn(face, box);
    const first = Math.max(fewest, Math.ceil((low - slack) / intervalM));
    const last = Math.min(most, Math.floor((high + slack) / intervalM));
    for (let step = first; step <= last; step++) {
      const piece = pieceAt(face, step * intervalM);
      const clipped = piece && clippedToBox(piece[0], piece[1], box);
      if (!clipped) continue;
      const found = steps.get(step) ?? { inside: [], outside: [] };
      const inside = face.how === 'inside' || onRim(ground, face, piece);
      found[inside ? 'inside' : 'outside'].push([clipped[0]!, clipped[1]!]);
      steps.set(step, found);
    }
  }
  return [...steps]
    .sort(([a], [b]) => a - b)
    .map(([step, { inside, outside }]): Contour => ({
      zM: step * intervalM,
      index: step % INDEX_EVERY === 0,
      lines: [
        ...joinedPieces(inside).map((line): ContourLine => ({ ...line, outside: false })),
        ...joinedPieces(outside).map((line): ContourLine => ({ ...line, outside: true })),
      ],
    }));
}

/** Whether a piece of a face beyond the levels runs just where the ground between them ends. */
function onRim(ground: Ground, { ring }: Face, [a, b]: Piece): boolean {
  if (!ring.includes(a) || !ring.includes(b)) return false;
  return ground.heightAt([(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]).how === 'inside';
}

/** Lowest and highest place that was measured, metres; null where there is none. */
export function heightRange({ linked: { spots } }: Ground): [lowestM: number, highestM: number] | null {
  if (spots.length === 0) return null;
  let lowest = Infinity;
  let highest = -Infinity;
  for (const { zM } of spots) {
    lowest = Math.min(lowest, zM);
    highest = Math.max(highest, zM);
  }
  return [lowest, highest];
}

/** Lowest and highest height of a face, no farther than it lies in a box. */
function heightsIn({ ring, zM, gradient }: Face, { minX, minY, maxX, maxY }: Box): [number, number] {
  const [x, y] = ring[0]!;
  const at = (cx: number, cy: number) => zM[0]! + gradient[0] * (cx - x) + gradient[1] * (cy - y);
  const corners = [at(minX, minY), at(maxX, minY), at(maxX, maxY), at(minX, maxY)];
  return [Math.max(Math.min(...zM), Math.min(...corners)), Math.min(Math.max(...zM), Math.max(...corners))];
}

/** Where a face crosses a height, higher ground to the left; null where it lies all above (or on it) or all below. */
export function pieceAt({ ring, zM }: Face, heightM: number): Piece | null {
  const hair = ON_IT * (1 + Math.abs(heightM));
  const above = zM.map((z) => z >= heightM - hair);
  let down: Point | null = null;
  let up: Point | null = null;
  for (let i = 0; i < ring.length; i++) {
    const j = (i + 1) % ring.length;
    if (above[i] === above[j]) continue;
    if (above[i]) down ??= crossing(ring[j]!, zM[j]!, ring[i]!, zM[i]!, heightM, hair);
    else up ??= crossing(ring[i]!, zM[i]!, ring[j]!, zM[j]!, heightM, hair);
  }
  return down && up && distance(down, up) > 0 ? [down, up] : null;
}

/** Always reckoned from the lower end, so that neighbouring faces find the very same place. */
function crossing(
  low: Point,
  zLow: number,
  high: Point,
  zHigh: number,
  heightM: number,
  hair: number,
): Point {
  if (zHigh <= heightM + hair) return high;
  const share = (heightM - zLow) / (zHigh - zLow);
  return [low[0] + (high[0] - low[0]) * share, low[1] + (high[1] - low[1]) * share];
}

/** Box round the ground that is drawn on: areas, levels and falls; null when there are none. */
export function groundBox({ areas, levels, falls }: Pick<Plan, 'areas' | 'levels' | 'falls'>): Box | null {
  return boxOf([
    ...[...areas].flatMap(({ outline }) => outline),
    ...[...levels].map(({ at }) => at),
    ...[...falls].flatMap(({ from, to }) => [from, to]),
  ]);
}

/** Intervals in use, in the unit of the drawing; common practice. */
const NICE: Readonly<Record<UnitSystem, readonly number[]>> = {
  us: [0.1, 0.2, 0.25, 0.5, 1, 2, 5, 10, 20, 50].map((feet) => feet * FOOT_M),
  metric: [0.02, 0.05, 0.1, 0.2, 0.25, 0.5, 1, 2, 5, 10, 20],
};
const FEWEST_LINES = 5;
const MOST_LINES = 15;

/**
 * Intervals that give a drawing of 5 to 15 lines over a range of heights, the finest first; where none does, the one
 * that comes nearest. Empty for ground without a range.
 * @param rangeM highest less lowest height, metres
 */
export function contourIntervals(rangeM: number, units: UnitSystem): number[] {
  if (!(rangeM > 0) || !Number.isFinite(rangeM)) return [];
  const fit = NICE[units].filter((step) => {
    const lines = rangeM / step;
    return lines >= FEWEST_LINES && lines <= MOST_LINES;
  });
  if (fit.length > 0) return fit;
  const miss = (step: number) => Math.abs(Math.log(rangeM / step / 10));
  return [NICE[units].reduce((best, step) => (miss(step) < miss(best) ? step : best))];
}

/** The contour lines of a plan at its own interval, over all that is drawn on; none without an interval. */
export function contoursOfPlan({
  site,
  levels,
  falls,
  areas,
}: Pick<Plan, 'site' | 'levels' | 'falls' | 'areas'>): readonly Contour[] {
  return remembered(site.contourM, levels, falls, areas);
}

const remembered = memo(
  (
    intervalM: number | null,
    levels: Plan['levels'],
    falls: Plan['falls'],
    areas: Plan['areas'],
  ): readonly Contour[] => {
    const box = intervalM === null ? null : groundBox({ areas, levels, falls });
    return box && intervalM !== null ? contoursOf(groundOf({ levels, falls }), intervalM, box) : [];
  },
);
