import Flatbush from 'flatbush';
import { distance, polar, type Point } from '../../base/point.ts';
import { rootZone } from '../../derive/root-zone.ts';
import { counted } from '../../derive/wording.ts';
import type { Plant, PlantClass } from '../../plan/records.ts';
import type { PointNote } from './note.ts';
import type { PlantNumber } from './numbers.ts';
import type { Placer } from './placer.ts';

/** Plants that have their emitters in common, and where these stand. */
export interface ShareGroup {
  readonly plants: readonly Plant[];
  readonly places: readonly Point[];
}

/** Small plants that stand in drifts; shrubs and trees have emitters of their own (common practice). */
const SHARING: readonly PlantClass[] = ['perennial', 'groundcover'];
/** So many plants share at most, so that one emitter that clogs does not dry out a drift (common practice). */
const MOST_TOGETHER = 3;
/** So many neighbours of a plant are looked at. */
const LOOKED_AT = 8;
/** Places are looked for about the middle of the stems, at these distances and turns; metres, degrees. */
const RADII_M = [0, 0.08, 0.16, 0.24, 0.32, 0.45, 0.6];
const TURN_DEG = 30;
const APART_M = 0.1;

/**
 * Which plants may share their emitters: perennials and ground covers with the same number and size of emitters and
 * the same water use, two or three of them, where all those emitters find room in the root zones of all. Every plant
 * still has its number of emitters, those that it shares among them. Gone through in the order given: each with its
 * nearest neighbours that are free.
 */
export function shareGroups(
  plants: readonly Plant[],
  numbers: ReadonlyMap<string, PlantNumber>,
  wantedOf: (plant: Plant) => number,
  placer: Placer,
): ShareGroup[] {
  const list = plants.filter(({ plantClass }) => SHARING.includes(plantClass));
  if (list.length < 2) return [];
  const index = new Flatbush(list.length);
  for (const { at } of list) index.add(at[0], at[1], at[0], at[1]);
  index.finish();
  const mostOuterM = list.reduce((most, plant) => Math.max(most, rootZone(plant).outerM), 0);
  const taken = new Set<string>();
  const groups: ShareGroup[] = [];
  for (const plant of list) {
    if (taken.has(plant.id)) continue;
    const number = numbers.get(plant.id)!;
    const { outerM } = rootZone(plant);
    const near = index
      .neighbors(plant.at[0], plant.at[1], Infinity, outerM + mostOuterM, (i) => {
        const other = list[i]!;
        const own = numbers.get(other.id)!;
        return (
          other.id !== plant.id &&
          !taken.has(other.id) &&
          own.count === number.count &&
          own.flowLph === number.flowLph &&
          other.waterUse === plant.waterUse &&
          distance(other.at, plant.at) <= outerM + rootZone(other).outerM
        );
      })
      .slice(0, LOOKED_AT)
      .map((i) => list[i]!);
    let group: ShareGroup | null = null;
    for (const other of near) {
      const together: readonly Plant[] = [...(group?.plants ?? [plant]), other];
      const places = commonPlaces(together, wantedOf(plant), placer);
      if (places) group = { plants: together, places };
      if (group?.plants.length === MOST_TOGETHER) break;
    }
    if (!group) continue;
    groups.push(group);
    for (const { id } of group.plants) taken.add(id);
  }
  return groups;
}

/** Places in the root zones of all plants, as many as are wanted; `null` where there are not enough. */
function commonPlaces(plants: readonly Plant[], count: number, placer: Placer): Point[] | null {
  const middle: Point = [
    plants.reduce((sum, { at }) => sum + at[0], 0) / plants.length,
    plants.reduce((sum, { at }) => sum + at[1], 0) / plants.length,
  ];
  const found: Point[] = [];
  for (const radiusM of RADII_M) {
    for (let turn = 0; turn < (radiusM > 0 ? 360 : TURN_DEG); turn += TURN_DEG) {
      const p = radiusM > 0 ? polar(middle, radiusM, turn) : middle;
      if (found.some((other) => distance(other, p) < APART_M)) continue;
      if (!plants.every((plant) => placer.suits(p, plant))) continue;
      found.push(p);
      if (found.length === count) return found;
    }
  }
  return null;
}

/** Told, since a plant that shares gets only its part of the water. */
export function shareNotes(groups: readonly ShareGroup[]): PointNote[] {
  if (groups.length === 0) return [];
  const plants = groups.flatMap((group) => group.plants);
  const places = groups.reduce((sum, group) => sum + group.places.length, 0);
  return [
    {
      rule: 'shared',
      message: `${counted(plants.length, 'plant')} share ${counted(places, 'emitter')}: each has its number of them but only a part of their water. Take larger emitters, or let the zone run longer.`,
      refs: plants.map(({ id }) => ({ table: 'plants', id })),
    },
  ];
}
