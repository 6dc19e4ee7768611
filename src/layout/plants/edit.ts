import type { Point } from '../../base/point.ts';
import { freshIds, type Edit } from '../../plan/edits/index.ts';
import type { Plant } from '../../plan/records.ts';

/** Adds one plant at each place, all alike, as one step of history. */
export function addPlants(label: string, points: readonly Point[], plant: Omit<Plant, 'id' | 'at'>): Edit {
  return {
    label,
    apply: (plan) => {
      if (points.length === 0) return plan;
      const ids = freshIds(plan, 'plants', points.length);
      const made = points.map((at, i): Plant => ({ ...plant, id: ids[i]!, at }));
      return { ...plan, plants: plan.plants.with(...made) };
    },
  };
}
