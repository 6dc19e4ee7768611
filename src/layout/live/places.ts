import { distance, type Box, type Path, type Point } from '../../base/point.ts';
import { nearestOnPath } from '../../base/polyline.ts';
import { JOINT_TOLERANCE_M } from '../../plan/joining.ts';
import type { Fill, Plan, Run } from '../../plan/records.ts';

/** Whether a place is on a path, within what counts as a joint. */
export const isOn = (path: Path, p: Point): boolean =>
  path.length > 0 && nearestOnPath(path, p).distance <= JOINT_TOLERANCE_M;

export function nearestOf(places: readonly Point[], p: Point): Point | null {
  let best: Point | null = null;
  for (const place of places) if (!best || distance(place, p) < distance(best, p)) best = place;
  return best;
}

export const grown = ({ minX, minY, maxX, maxY }: Box, by: number): Box => ({
  minX: minX - by,
  minY: minY - by,
  maxX: maxX + by,
  maxY: maxY + by,
});

export const meet = (a: Box, b: Box): boolean =>
  a.minX <= b.maxX && b.minX <= a.maxX && a.minY <= b.maxY && b.minY <= a.maxY;

/** The runs of a fill that are there, in the order in which they were laid. */
export function runsOf(plan: Plan, fill: Pick<Fill, 'runIds'>): readonly Run[] {
  return fill.runIds.flatMap((id) => plan.runs.get(id) ?? []);
}
