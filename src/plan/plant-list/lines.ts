import type { Plan, Plant, PlantClass, PlantKind, WaterUse } from '../records.ts';
import { kindKey, kindOfPlant, oneLineEach } from './kinds.ts';

/** One line of the plant list as it is shown: plants placed alike, and what the list says of their kind. */
export interface PlantLine {
  readonly key: string;
  /** Fields of the plants, or of the list where none is placed; water use `null` where it is not known. */
  readonly kind: PlantKind;
  /** Ids of the placed plants. */
  readonly ids: readonly string[];
  /** Whether placed plants of this line differ in water use. */
  readonly waterVaries: boolean;
  /** Whether the list has a line for this kind; its count then is in `kind`. */
  readonly listed: boolean;
  /** Plants of the list that have no place yet, over all sizes of the kind. */
  readonly toPlace: number;
}

/** Key of the line on which plants stand: kind and mature canopy; sizes within a millimetre are the same. */
export const lineKey = (kind: Pick<PlantKind, 'name' | 'plantClass' | 'canopyMatureM'>): string =>
  `${kindKey(kind)}:${Math.round(kind.canopyMatureM * 1000)}`;

/**
 * The plant list of a plan: placed plants by name, class and mature canopy, and the kinds of the list. A kind of the
 * list stands on the line of its own size, or on the first of its name and class, or on a line of its own. In order of
 * class, then name.
 */
export function plantLines({ plants, planting }: Pick<Plan, 'plants' | 'planting'>): PlantLine[] {
  const groups = new Map<string, Plant[]>();
  for (const plant of plants) {
    const key = lineKey(plant);
    const group = groups.get(key);
    if (group) group.push(plant);
    else groups.set(key, [plant]);
  }
  const placedOfKind = new Map<string, number>();
  const firstOfKind = new Map<string, string>();
  for (const [key, group] of groups) {
    const kind = kindKey(group[0]!);
    placedOfKind.set(kind, (placedOfKind.get(kind) ?? 0) + group.length);
    if (!firstOfKind.has(kind)) firstOfKind.set(kind, key);
  }
  const listedAt = new Map<string, PlantKind>();
  for (const kind of oneLineEach(planting.kinds).kinds) {
    const own = lineKey(kind);
    listedAt.set(groups.has(own) ? own : (firstOfKind.get(kindKey(kind)) ?? own), kind);
  }
  const lines = [...new Set([...groups.keys(), ...listedAt.keys()])].map((key): PlantLine => {
    const group = groups.get(key) ?? [];
    const listed = listedAt.get(key);
    const first = group[0];
    const waterVaries = group.some((plant) => plant.waterUse !== first!.waterUse);
    const kind = first ? kindOfPlant(first) : listed!;
    const count = listed?.count ?? null;
    return {
      key,
      kind: { ...kind, waterUse: waterVaries ? null : kind.waterUse, count },
      ids: group.map(({ id }) => id),
      waterVaries,
      listed: listed !== undefined,
      toPlace: Math.max(0, (count ?? 0) - (placedOfKind.get(kindKey(kind)) ?? 0)),
    };
  });
  return lines.sort(
    (a, b) =>
      CLASSES.indexOf(a.kind.plantClass) - CLASSES.indexOf(b.kind.plantClass) ||
      names.compare(a.kind.name, b.kind.name) ||
      a.kind.canopyMatureM - b.kind.canopyMatureM,
  );
}

/** Names in order, numbers in them by their size. */
const names = new Intl.Collator('en', { numeric: true });
const CLASSES: readonly PlantClass[] = ['tree', 'shrub', 'perennial', 'groundcover'];
const USES: readonly (WaterUse | null)[] = ['high', 'moderate', 'low', 'very low', null];

/** How many plants, placed and still to be placed. */
export interface PlantSum {
  readonly placed: number;
  readonly toPlace: number;
}

export interface PlantTotals {
  readonly all: PlantSum;
  /** Classes and water uses of which there are plants, in order; `null` is not known. */
  readonly byClass: readonly (readonly [PlantClass, PlantSum])[];
  readonly byWaterUse: readonly (readonly [WaterUse | null, PlantSum])[];
}

/** Sums of the plant list by class and by water use. */
export function plantTotals(
  plants: Pick<Plan, 'plants'>['plants'],
  lines: readonly PlantLine[],
): PlantTotals {
  const classes = new Map<PlantClass, PlantSum>();
  const uses = new Map<WaterUse | null, PlantSum>();
  const put = <K>(sums: Map<K, PlantSum>, key: K, placed: number, toPlace: number) => {
    const sum = sums.get(key) ?? { placed: 0, toPlace: 0 };
    if (placed + toPlace > 0) {
      sums.set(key, { placed: sum.placed + placed, toPlace: sum.toPlace + toPlace });
    }
  };
  for (const { plantClass, waterUse } of plants) {
    put(classes, plantClass, 1, 0);
    put(uses, waterUse, 1, 0);
  }
  let toPlace = 0;
  for (const line of lines) {
    toPlace += line.toPlace;
    put(classes, line.kind.plantClass, 0, line.toPlace);
    put(uses, line.kind.waterUse, 0, line.toPlace);
  }
  const inOrder = <K>(order: readonly K[], sums: ReadonlyMap<K, PlantSum>) =>
    order.flatMap((key) => {
      const sum = sums.get(key);
      return sum ? [[key, sum] as const] : [];
    });
  return {
    all: { placed: plants.size, toPlace },
    byClass: inOrder(CLASSES, classes),
    byWaterUse: inOrder(USES, uses),
  };
}
