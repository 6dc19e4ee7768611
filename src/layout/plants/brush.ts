import { distance, type Path, type Point } from '../../base/point.ts';
import { nearestOnSegment } from '../../base/polyline.ts';
import type { Plant } from '../../plan/records.ts';
import { isSpacing, MOST_PLANTS, TRIANGLE } from './limits.ts';
import { NearPlaces } from './standing.ts';

/** How a brush plants. */
export interface BrushChoices {
  /** Stems no nearer to each other and to plants that stand there, metres in plan. */
  readonly spacingM: number;
  readonly radiusM: number;
}

/** A stroke under way: it grows piece by piece and is never changed behind one's back. */
export interface Stroke {
  readonly path: Path;
  readonly points: readonly Point[];
  /** Cells of the grid that were looked at, so that none is looked at twice. */
  readonly seen: ReadonlySet<string>;
}

export const NO_STROKE: Stroke = { path: [], points: [], seen: new Set() };

/** Plants as places that a stroke keeps off. */
export function standingPlants(plants: Iterable<Pick<Plant, 'at'>>, spacingM: number): NearPlaces {
  const places = function* () {
    for (const { at } of plants) yield at;
  };
  return new NearPlaces(Math.max(spacingM, 1e-6), places());
}

/**
 * The stroke with one more place. Stems stand on the triangles of a grid that begins where the stroke began, so that the
 * same stroke always plants the same, and no two are nearer than the spacing: those within the brush's radius of the way
 * that may stand there and are no nearer than the spacing to what stood before.
 */
export function stroked(
  stroke: Stroke,
  to: Point,
  { spacingM, radiusM }: BrushChoices,
  standing: NearPlaces,
  mayStandAt: (at: Point) => boolean,
): Stroke {
  if (!isSpacing(spacingM) || !(radiusM >= 0) || !Number.isFinite(to[0] + to[1])) return stroke;
  const origin = stroke.path[0] ?? to;
  const from = stroke.path.at(-1) ?? to;
  const path = [...stroke.path, to];
  const pitch = spacingM * TRIANGLE;
  const points = [...stroke.points];
  const seen = new Set(stroke.seen);
  const lowest = Math.ceil((Math.min(from[1], to[1]) - radiusM - origin[1]) / pitch - 1e-9);
  const highest = Math.floor((Math.max(from[1], to[1]) + radiusM - origin[1]) / pitch + 1e-9);
  const west = Math.min(from[0], to[0]) - radiusM - origin[0];
  const east = Math.max(from[0], to[0]) + radiusM - origin[0];
  // A leap over the whole plan with a fine brush is more than anyone plants in one stroke.
  if ((highest - lowest) * ((east - west) / spacingM) > MOST_PLANTS * 10) return stroke;
  for (let row = lowest; row <= highest; row++) {
    const on = row % 2 ? spacingM / 2 : 0;
    const last = Math.floor((east - on) / spacingM + 1e-9);
    for (let column = Math.ceil((west - on) / spacingM - 1e-9); column <= last; column++) {
      const key = `${row},${column}`;
      if (seen.has(key)) continue;
      const at: Point = [origin[0] + on + column * spacingM, origin[1] + row * pitch];
      if (nearestOnSegment(from, to, at).distance > radiusM + 1e-9) continue;
      seen.add(key);
      if (points.length >= MOST_PLANTS || standing.nearer(at, spacingM) || !mayStandAt(at)) continue;
      points.push(at);
    }
  }
  return { path, points, seen };
}

/** The plants whose stems lie within the brush's radius of a piece of its way. */
export function underBrush(plants: Iterable<Plant>, from: Point, to: Point, radiusM: number): Plant[] {
  const reach = radiusM + distance(from, to);
  return [...plants].filter(
    ({ at }) => distance(from, at) <= reach && nearestOnSegment(from, to, at).distance <= radiusM,
  );
}
