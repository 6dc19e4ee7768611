import Flatbush from 'flatbush';
import { memo } from '../../base/memo.ts';
import { distance } from '../../base/point.ts';
import { rootZoneRadius } from '../../catalog/index.ts';
import { plantsOf } from '../../plan/emitter-plants.ts';
import type { Plan, Plant } from '../../plan/records.ts';
import type { PlacedOutlet } from '../results.ts';

/** How far from its stem an outlet reaches a plant's roots, metres. */
export const reachOf = (plant: Plant): number => rootZoneRadius(plant.plantClass, plant.canopyMatureM);

/** Boxes about the root zones of all plants, which stay the same while only outlets change. */
const rootBoxes = memo((plants: Plan['plants']) => {
  const list = plants.toArray();
  const boxes = new Flatbush(list.length);
  for (const plant of list) {
    const reach = reachOf(plant);
    const [x, y] = plant.at;
    boxes.add(x - reach, y - reach, x + reach, y + reach);
  }
  boxes.finish();
  return { list, boxes };
});

/** By plant: the outlets that name it or lie in its root zone. Plants without any are not in the map. */
export const outletsOfPlants = memo(
  (plants: Plan['plants'], outlets: readonly PlacedOutlet[]): ReadonlyMap<string, PlacedOutlet[]> => {
    const found = new Map<string, PlacedOutlet[]>();
    if (plants.size === 0 || outlets.length === 0) return found;
    const { list, boxes } = rootBoxes(plants);
    const add = (plant: Plant, outlet: PlacedOutlet): void => {
      const own = found.get(plant.id);
      if (own) own.push(outlet);
      else found.set(plant.id, [outlet]);
    };
    for (const outlet of outlets) {
      const [x, y] = outlet.at;
      for (const i of boxes.search(x, y, x, y)) {
        const plant = list[i]!;
        const isNamed = plant.id === outlet.plantId || outlet.alsoPlantIds?.includes(plant.id) === true;
        if (!isNamed && distance(plant.at, outlet.at) <= reachOf(plant)) add(plant, outlet);
      }
      if (outlet.plantId === null && outlet.alsoPlantIds === undefined) continue;
      for (const id of new Set(plantsOf(outlet))) {
        const named = plants.get(id);
        if (named) add(named, outlet);
      }
    }
    return found;
  },
);
