import Flatbush from 'flatbush';
import { memo } from '../../base/memo.ts';
import { distance } from '../../base/point.ts';
import { rootZoneRadius } from '../../catalog/index.ts';
import type { Plan, Plant } from '../../plan/records.ts';
import type { PlacedOutlet } from '../results.ts';

/** How far from its stem an outlet reaches a plant's roots, metres. */
const reachOf = (plant: Plant): number => rootZoneRadius(plant.plantClass, plant.canopyMatureM);

/** By plant: the outlets that name it or lie in its root zone. Plants without any are not in the map. */
export const outletsOfPlants = memo(
  (plants: Plan['plants'], outlets: readonly PlacedOutlet[]): ReadonlyMap<string, PlacedOutlet[]> => {
    const found = new Map<string, PlacedOutlet[]>();
    if (plants.size === 0 || outlets.length === 0) return found;
    const list = plants.toArray();
    const boxes = new Flatbush(list.length);
    for (const plant of list) {
      const reach = reachOf(plant);
      const [x, y] = plant.at;
      boxes.add(x - reach, y - reach, x + reach, y + reach);
    }
    boxes.finish();
    const add = (plant: Plant, outlet: PlacedOutlet): void => {
      const own = found.get(plant.id);
      if (own) own.push(outlet);
      else found.set(plant.id, [outlet]);
    };
    for (const outlet of outlets) {
      const [x, y] = outlet.at;
      for (const i of boxes.search(x, y, x, y)) {
        const plant = list[i]!;
        if (plant.id !== outlet.plantId && distance(plant.at, outlet.at) <= reachOf(plant))
          add(plant, outlet);
      }
      const named = outlet.plantId === null ? undefined : plants.get(outlet.plantId);
      if (named) add(named, outlet);
    }
    return found;
  },
);
