import { memo } from '../../base/memo.ts';
import { distance } from '../../base/point.ts';
import { polygonContains } from '../../base/polygon.ts';
import { FOOT_M } from '../../base/units.ts';
import type { Plan, Plant } from '../../plan/records.ts';
import type { Notice, PlacedOutlet } from '../results.ts';
import { agree, counted, listed } from '../wording.ts';
import type { Check, Rule } from './check.ts';
import { outletsOfPlants, reachOf } from './plant-outlets.ts';

/** Once anything is laid out, a plant that no outlet waters was probably forgotten. */
export const plantWithoutEmitter: Check = ({ plan, planNetwork }) =>
  forgotten(plan.plants, planNetwork.outlets, plan.areas);

const forgotten = memo(
  (plants: Plan['plants'], outlets: readonly PlacedOutlet[], areas: Plan['areas']): Notice[] => {
    if (outlets.length === 0) return [];
    const watered = outletsOfPlants(plants, outlets);
    const dry = [...plants].filter(
      (plant) => !watered.get(plant.id)?.some(reaches(plant)) && !onLawn(areas, plant),
    );
    if (dry.length === 0) return [];
    return [
      {
        rule: 'plant-without-emitter',
        severity: 'error',
        message: `${counted(dry.length, 'plant')} ${agree(dry.length, 'has', 'have')} no emitter in the root zone (${kindsOf(dry)}): give ${agree(dry.length, 'it', 'them')} emitters, or lay dripline under the canopy.`,
        refs: dry.map((plant) => ({ table: 'plants', id: plant.id }) as const),
      },
    ];
  },
);

/** So far around it an outlet wets the ground beside a root zone, metres (1 ft; common practice). */
const WETS_M = FOOT_M;

/** An outlet that names a plant waters it only where its water comes to the roots. */
const reaches =
  (plant: Plant) =>
  ({ at }: PlacedOutlet): boolean =>
    distance(plant.at, at) <= reachOf(plant) + WETS_M;

/** Names of plants, each once. */
export function kindsOf(plants: readonly Plant[]): string {
  return listed([...new Set(plants.map((plant) => plant.name.trim() || plant.plantClass))]);
}

function onLawn(areas: Plan['areas'], plant: Plant): boolean {
  for (const area of areas) {
    if (area.use === 'lawn' && polygonContains(area.outline, area.holes, plant.at)) return true;
  }
  return false;
}

export const plantWithoutEmitterRule: Rule = {
  number: 19,
  title: 'Every plant has an emitter in its root zone',
  says: ['plant-without-emitter'],
  severity: 'error',
  limits: [],
  source: 'common practice',
  check: plantWithoutEmitter,
};
