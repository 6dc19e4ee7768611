import { distance, type Point, type Ring } from '../../base/point.ts';
import { distanceToRing } from '../../base/polygon.ts';
import type { Plan } from '../../plan/records.ts';

/**
 * Where drip's water comes from, nearest to an outline or to a single place: a control set, else a head that is to be the
 * tie-in, else a valve. `null` where the plan has none.
 */
export function sourceNear(plan: Plan, outline: Ring): Point | null {
  const places = [
    [...plan.controls].map(({ at }) => at),
    [...plan.heads].filter(({ fate }) => fate === 'tie-in').map(({ at }) => at),
    [...plan.supplies].map(({ at }) => at),
  ].find((list) => list.length > 0);
  const away = (at: Point): number =>
    outline.length === 1 ? distance(outline[0]!, at) : distanceToRing(outline, at);
  return (places ?? []).reduce<Point | null>(
    (best, at) => (best === null || away(at) < away(best) ? at : best),
    null,
  );
}
