import { counted } from '../../derive/wording.ts';
import type { OutletChoice, Plan, Plant, Ref } from '../../plan/records.ts';
import type { Point } from '../../base/point.ts';
import { MOST_EMITTERS, type PointChoices } from './choices.ts';
import { longWay } from './long-way.ts';
import type { PointNote } from './note.ts';
import { plantNumbers } from './numbers.ts';
import { placerFor } from './placer.ts';
import { shareGroups, shareNotes } from './share.ts';

/** A point emitter that has its place but no tubing yet. */
export interface Placed extends OutletChoice {
  readonly plantId: string;
  /** Further plants that share it. */
  readonly alsoPlantIds?: readonly string[];
  readonly at: Point;
}

export interface Placement {
  readonly emitters: readonly Placed[];
  readonly notes: readonly PointNote[];
}

/** Plants whose place and canopy are numbers. */
export function soundPlants(plants: readonly Plant[]): Plant[] {
  return plants.filter(
    ({ at, canopyMatureM }) =>
      Number.isFinite(at[0]) && Number.isFinite(at[1]) && Number.isFinite(canopyMatureM),
  );
}

/**
 * Places for the emitters of plants. On slopes of 10 percent and more all are uphill of the stem, spread over 120
 * degrees; else they are spread round it, two on opposite sides, from 5 percent on with a single one and half of several
 * uphill or level with the stem. Distance from the stem: now the edge of the
 * present canopy, or 12 in where that is not measured; mature two thirds of the mature canopy's radius; never nearer
 * than 6 in to any stem and 12 in to a trunk, nor outside of the root zone. A place that is paved, built over, left out or taken is turned
 * round the stem, then moved in or out. What finds no place is told in a note. Plants without a place that is a number
 * are left out with a note. Where plants may share, those of a group have their emitters in common (`shareGroups`).
 */
export function placeEmitters(
  plan: Pick<Plan, 'areas' | 'plants' | 'soil' | 'levels' | 'falls'>,
  plants: readonly Plant[],
  choices: PointChoices,
): Placement {
  const good = soundPlants(plants);
  const numbers = plantNumbers(plan, good, choices);
  const placer = placerFor(plan, longWay(good.map(({ at }) => at)));
  const wantedOf = (plant: Plant): number => {
    const { count } = numbers.get(plant.id)!;
    return Number.isFinite(count) ? Math.min(MOST_EMITTERS, Math.max(1, Math.round(count))) : 1;
  };
  const groups = choices.share ? shareGroups(good, numbers, wantedOf, placer) : [];
  const groupOf = new Map(groups.flatMap((group) => group.plants.map(({ id }) => [id, group] as const)));
  const emitters: Placed[] = [];
  const short: { readonly plant: Plant; readonly placed: number; readonly wanted: number }[] = [];
  for (const plant of good) {
    const { flowLph } = numbers.get(plant.id)!;
    const wanted = wantedOf(plant);
    const group = groupOf.get(plant.id);
    // A group's emitters come with the first of its plants.
    if (group && group.plants[0] !== plant) continue;
    const places = group?.places ?? placer.placesAt(plant, wanted, choices.place);
    const alsoPlantIds = group?.plants.slice(1).map(({ id }) => id) ?? [];
    for (const at of places) {
      emitters.push({
        plantId: plant.id,
        ...(alsoPlantIds.length > 0 && { alsoPlantIds }),
        at,
        law: choices.law,
        ratedFlowLph: flowLph,
      });
    }
    if (places.length < wanted) short.push({ plant, placed: places.length, wanted });
  }
  return { emitters, notes: [...notesOf(plants, good, short), ...shareNotes(groups)] };
}

function notesOf(
  plants: readonly Plant[],
  good: readonly Plant[],
  short: readonly { readonly plant: Plant; readonly placed: number }[],
): PointNote[] {
  const notes: PointNote[] = [];
  const refs = (list: readonly Plant[]): Ref[] => list.map(({ id }) => ({ table: 'plants', id }));
  if (good.length < plants.length) {
    const kept = new Set(good.map(({ id }) => id));
    const bad = plants.filter(({ id }) => !kept.has(id));
    notes.push({
      rule: 'bad-plant',
      message: `${counted(bad.length, 'plant')} without a place or canopy that is a number left out: set them again.`,
      refs: refs(bad),
    });
  }
  const none = short.filter(({ placed }) => placed === 0).map(({ plant }) => plant);
  const some = short.filter(({ placed }) => placed > 0).map(({ plant }) => plant);
  if (none.length > 0) {
    notes.push({
      rule: 'no-place',
      message: `${counted(none.length, 'plant')} without an emitter: all of the root zone is paved, built over or too near to a stem. Move the plant, or open the paving about it.`,
      refs: refs(none),
    });
  }
  if (some.length > 0) {
    notes.push({
      rule: 'fewer',
      message: `${counted(some.length, 'plant')} with fewer emitters than wanted: there is no more room in the root zone. Take larger emitters there.`,
      refs: refs(some),
    });
  }
  return notes;
}
