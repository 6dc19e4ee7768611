import { memo } from '../../base/memo.ts';
import { polygonContains } from '../../base/polygon.ts';
import { nearestOnPath } from '../../base/polyline.ts';
import type { Plan, Plant } from '../../plan/records.ts';
import { plantDefaults } from '../../catalog/index.ts';
import type { Notice } from '../results.ts';
import type { Check } from './check.ts';

/** Once point emitters are being laid out, a plant that no outlet waters was probably forgotten. */
export const plantWithoutEmitter: Check = ({ plan }) =>
  forgotten(plan.plants, plan.emitters, plan.runs, plan.areas);

const forgotten = memo(
  (
    plants: Plan['plants'],
    emitters: Plan['emitters'],
    runs: Plan['runs'],
    areas: Plan['areas'],
  ): Notice[] => {
    if (emitters.size === 0) return [];
    const watered = new Set([...emitters].map((emitter) => emitter.plantId));
    const dry = [...plants].filter(
      (plant) =>
        !watered.has(plant.id) &&
        !emitterNear(emitters, plant) &&
        !driplineNear(runs, plant) &&
        !onLawn(areas, plant),
    );
    if (dry.length === 0) return [];
    const names = [...new Set(dry.map((plant) => plant.name.trim() || plant.plantClass))];
    const shown = names.slice(0, 5).join(', ') + (names.length > 5 ? ' and others' : '');
    return [
      {
        rule: 'plant-without-emitter',
        severity: 'warning',
        message: `${dry.length} plant(s) have no emitter yet (${shown}): give them emitters, or lay dripline by them.`,
        refs: dry.map((plant) => ({ table: 'plants', id: plant.id }) as const),
      },
    ];
  },
);

function reachOf(plant: Plant): number {
  return (plant.canopyMatureM / 2) * plantDefaults(plant.plantClass).rootZoneShare;
}

function emitterNear(emitters: Plan['emitters'], plant: Plant): boolean {
  const reach = reachOf(plant);
  for (const { at, plantId } of emitters) {
    if (plantId === null && Math.hypot(at[0] - plant.at[0], at[1] - plant.at[1]) <= reach) return true;
  }
  return false;
}

function driplineNear(runs: Plan['runs'], plant: Plant): boolean {
  const reach = reachOf(plant);
  for (const run of runs) {
    if (run.inline && run.path.length >= 2 && nearestOnPath(run.path, plant.at).distance <= reach)
      return true;
  }
  return false;
}

function onLawn(areas: Plan['areas'], plant: Plant): boolean {
  for (const area of areas) {
    if (area.use === 'lawn' && polygonContains(area.outline, area.holes, plant.at)) return true;
  }
  return false;
}
