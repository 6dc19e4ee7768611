import { freshIds, remove, type Edit } from '../edits/index.ts';
import type { Plan, Plant, PlantKind } from '../records.ts';
import { countsTogether, kindKey, kindOfPlant, oneLineEach } from './kinds.ts';
import type { PlantLine } from './lines.ts';
import type { PlantRows } from './read-rows.ts';
import type { NewPlant } from './row.ts';

/** What to do where the plan has something already. */
export interface ImportChoices {
  /** Counts of kinds that are in the plan's list: replaced by those of the new list, or added to them. */
  readonly counts: 'replace' | 'add';
  /** Plants that stand at a place where one of their kind stands already: left out, or set a second time. */
  readonly standing: 'skip' | 'add';
}

/** Within this distance a plant of the same kind is the same plant, metres. */
const SAME_PLACE_M = 0.01;

/** Key of the kind and of the square in which a place lies; neighbours are looked at too. */
const squareKey = (plant: NewPlant, dx = 0, dy = 0): string =>
  `${Math.round(plant.at[0] / SAME_PLACE_M) + dx}/${Math.round(plant.at[1] / SAME_PLACE_M) + dy}/${kindKey(plant)}`;

/** Those of the plants at whose place none of their kind stands yet. */
export function notStandingYet(plan: Pick<Plan, 'plants'>, plants: readonly NewPlant[]): NewPlant[] {
  const standing = new Map<string, Plant>();
  for (const plant of plan.plants) standing.set(squareKey(plant), plant);
  const stands = (plant: NewPlant): boolean => {
    for (let dx = -1; dx <= 1; dx++) {
      for (let dy = -1; dy <= 1; dy++) {
        const other = standing.get(squareKey(plant, dx, dy));
        if (other && Math.hypot(other.at[0] - plant.at[0], other.at[1] - plant.at[1]) <= SAME_PLACE_M + 1e-9)
          return true;
      }
    }
    return false;
  };
  return standing.size === 0 ? [...plants] : plants.filter((plant) => !stands(plant));
}

/**
 * Takes a plant list into the plan in one step: plants with a place under fresh ids, kinds without one into the
 * plan's list by name and class. What the new list leaves open of a kind stays as the plan has it.
 */
export function importPlants(
  label: string,
  list: Pick<PlantRows, 'plants' | 'kinds' | 'assumed'>,
  { counts, standing }: ImportChoices,
): Edit {
  const assumed = new Set([...list.assumed].filter((one): one is PlantKind => 'count' in one));
  const lines = oneLineEach(list.kinds, assumed);
  return {
    label,
    apply: (plan) => {
      const fresh = standing === 'skip' ? notStandingYet(plan, list.plants) : list.plants;
      const ids = freshIds(plan, 'plants', fresh.length);
      const plants = fresh.length
        ? plan.plants.with(...fresh.map((plant, i) => ({ ...plant, id: ids[i]! })))
        : plan.plants;
      const old = oneLineEach(plan.planting.kinds).kinds;
      const kinds = new Map(old.map((kind) => [kindKey(kind), kind]));
      for (const line of lines.kinds) {
        const before = kinds.get(kindKey(line));
        kinds.set(kindKey(line), before ? renewed(before, line, lines.assumed.has(line), counts) : line);
      }
      const planting = lines.kinds.length ? { ...plan.planting, kinds: [...kinds.values()] } : plan.planting;
      return { ...plan, plants, planting };
    },
  };
}

function renewed(
  old: PlantKind,
  line: PlantKind,
  sizeAssumed: boolean,
  counts: ImportChoices['counts'],
): PlantKind {
  return {
    ...old,
    canopyMatureM: sizeAssumed ? old.canopyMatureM : line.canopyMatureM,
    canopyNowM: line.canopyNowM ?? old.canopyNowM,
    rootBallM: line.rootBallM ?? old.rootBallM,
    waterUse: line.waterUse ?? old.waterUse,
    count: counts === 'add' ? countsTogether(old.count, line.count) : (line.count ?? old.count),
  };
}

/** Puts a kind at the end of the list; where its name and class are in the list already, the plan stays as it is. */
export function addKind(label: string, kind: PlantKind): Edit {
  return {
    label,
    apply: (plan) => {
      const { kinds } = plan.planting;
      if (kinds.some((one) => kindKey(one) === kindKey(kind))) return plan;
      return { ...plan, planting: { ...plan.planting, kinds: [...kinds, kind] } };
    },
  };
}

/**
 * Changes fields of all plants of a line, and of its kind in the list. A name that another kind of the list has joins
 * the two.
 */
export function changeLine(
  label: string,
  line: Pick<PlantLine, 'kind' | 'ids' | 'listed'>,
  fields: Partial<Omit<PlantKind, 'count'>>,
): Edit {
  return {
    label,
    apply: (plan) => {
      const changed = line.ids.flatMap((id) => {
        const plant = plan.plants.get(id);
        return plant ? [{ ...plant, ...fields }] : [];
      });
      const plants = changed.length ? plan.plants.with(...changed) : plan.plants;
      if (!line.listed) return { ...plan, plants };
      const kinds = plan.planting.kinds.map((kind) =>
        kindKey(kind) === kindKey(line.kind) ? { ...kind, ...fields } : kind,
      );
      return { ...plan, plants, planting: { ...plan.planting, kinds: oneLineEach(kinds).kinds } };
    },
  };
}

/** Sets how many there are of a kind; a kind of which only placed plants are known gets its line in the list. */
export function countKind(label: string, kind: PlantKind, count: number | null): Edit {
  return {
    label,
    apply: (plan) => {
      const { kinds } = plan.planting;
      const listed = kinds.some((one) => kindKey(one) === kindKey(kind));
      const next = listed
        ? kinds.map((one) => (kindKey(one) === kindKey(kind) ? { ...one, count } : one))
        : [...kinds, { ...kindOfPlant(kind), count }];
      return { ...plan, planting: { ...plan.planting, kinds: next } };
    },
  };
}

/** Takes the plants of a line off the plan, and its kind out of the list. */
export function removeLine(label: string, line: Pick<PlantLine, 'kind' | 'ids' | 'listed'>): Edit {
  return {
    label,
    apply: (plan) => {
      const next = remove(
        label,
        line.ids.map((id) => ({ table: 'plants', id })),
      ).apply(plan);
      if (!line.listed) return next;
      const kinds = next.planting.kinds.filter((kind) => kindKey(kind) !== kindKey(line.kind));
      return { ...next, planting: { ...next.planting, kinds } };
    },
  };
}
