import { distance, shifted, type Point } from '../../base/point.ts';
import { FALL_TOLERANCE_M } from '../joining.ts';
import type { Fall, Plan } from '../records.ts';

/** Ends of falls on moved levels go along by (dx, dy); falls that are moved themselves are left alone. */
export function fallEndsCarried(
  before: Plan,
  after: Plan,
  levels: ReadonlySet<string>,
  movedFalls: ReadonlySet<string>,
  dx: number,
  dy: number,
): Plan {
  const places = [...levels].flatMap((id): Point[] => {
    const level = before.levels.get(id);
    return level ? [level.at] : [];
  });
  if (places.length === 0 || before.falls.size === 0) return after;
  const carried = (end: Point) =>
    places.some((place) => distance(place, end) <= FALL_TOLERANCE_M) ? shifted(end, dx, dy) : end;
  const falls: Fall[] = [];
  for (const fall of after.falls) {
    if (movedFalls.has(fall.id)) continue;
    const [from, to] = [carried(fall.from), carried(fall.to)];
    if (from !== fall.from || to !== fall.to) falls.push({ ...fall, from, to });
  }
  return falls.length > 0 ? { ...after, falls: after.falls.with(...falls) } : after;
}
