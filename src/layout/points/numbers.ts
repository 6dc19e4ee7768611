import { isClosePlanting, placedEmitters } from '../../catalog/plant-emitters.ts';
import { surfacesOf } from '../../derive/existing/coverage/surfaces.ts';
import { textureOf } from '../../derive/soil/index.ts';
import type { Plan, Plant } from '../../plan/records.ts';
import { bedFinder } from './bed-of.ts';
import type { PointChoices } from './choices.ts';

/** How many emitters a plant gets, the rated flow of each, L/h, and where the figures come from. */
export interface PlantNumber {
  readonly count: number;
  readonly flowLph: number;
  readonly source: string;
}

/**
 * Emitters of each plant, by its id: the usual ones for class, mature canopy, closeness of the planting in its bed and
 * texture of the soil (`placedEmitters`), or as chosen. All plants of a bed count for its closeness.
 */
export function plantNumbers(
  plan: Pick<Plan, 'areas' | 'plants' | 'soil'>,
  plants: readonly Plant[],
  choices: Pick<PointChoices, 'count' | 'flowLph'>,
): ReadonlyMap<string, PlantNumber> {
  const { texture } = textureOf(plan.soil);
  const bedAt = bedFinder(plan.areas);
  const bedOf = ({ at }: Plant): string | undefined => bedAt(at)?.id;
  const canopiesM2 = new Map<string, number>();
  for (const plant of plan.plants) {
    const bed = bedOf(plant);
    if (bed === undefined) continue;
    canopiesM2.set(bed, (canopiesM2.get(bed) ?? 0) + (Math.PI * plant.canopyMatureM ** 2) / 4);
  }
  const close = new Set(
    surfacesOf(plan)
      .beds.filter(({ id, areaM2 }) => isClosePlanting(canopiesM2.get(id) ?? 0, areaM2))
      .map(({ id }) => id),
  );
  const numbers = new Map<string, PlantNumber>();
  for (const plant of plants) {
    const bed = bedOf(plant);
    const isClose = bed !== undefined && close.has(bed);
    const usual = placedEmitters(plant.plantClass, plant.canopyMatureM, isClose, texture);
    const count = choices.count ?? usual.count;
    const flowLph = choices.flowLph[plant.plantClass] ?? usual.flowLph;
    const isUsual = count === usual.count && flowLph === usual.flowLph;
    numbers.set(plant.id, { count, flowLph, source: isUsual ? usual.source : 'as chosen' });
  }
  return numbers;
}
