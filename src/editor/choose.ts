import { boxOf, type Point } from '../base/point.ts';
import { polygonContains } from '../base/polygon.ts';
import { placesOf } from '../plan/places.ts';
import { TABLES, type Area, type Plan, type Ref, type TableName } from '../plan/records.ts';

/** What makes two records of a table of one kind; tables that are not named are all of one kind. */
function kindOf(plan: Plan, ref: Ref): string {
  const same = (...facts: readonly unknown[]) => JSON.stringify(facts);
  switch (ref.table) {
    case 'plants': {
      const plant = plan.plants.get(ref.id);
      return same(plant?.name.trim().toLowerCase(), plant?.plantClass);
    }
    case 'runs': {
      const run = plan.runs.get(ref.id);
      return same(run?.tubing, run?.inline?.law, run?.inline?.ratedFlowLph, run?.inline?.spacingM);
    }
    case 'emitters': {
      const emitter = plan.emitters.get(ref.id);
      return same(emitter?.law, emitter?.ratedFlowLph);
    }
    case 'areas':
      return same(plan.areas.get(ref.id)?.use);
    case 'lineParts':
      return same(plan.lineParts.get(ref.id)?.kind);
    case 'heads':
      return same(plan.heads.get(ref.id)?.zone);
    case 'laterals': {
      const pipe = plan.laterals.get(ref.id);
      return same(pipe?.zone, pipe?.size);
    }
    default:
      return '';
  }
}

/**
 * All records that are of one kind with one of those chosen: plants of the same name and class, tubing and emitters that
 * are the same article, areas of the same use, heads of the same zone, old pipes of the same zone and size; of other
 * things all.
 */
export function allAlike(plan: Plan, refs: readonly Ref[]): Ref[] {
  const kinds = new Map<TableName, Set<string>>();
  for (const ref of refs) {
    if (!plan[ref.table].has(ref.id)) continue;
    const known = kinds.get(ref.table) ?? new Set();
    kinds.set(ref.table, known.add(kindOf(plan, ref)));
  }
  return [...kinds].flatMap(([table, wanted]) =>
    [...plan[table]].flatMap(({ id }): Ref[] =>
      wanted.has(kindOf(plan, { table, id })) ? [{ table, id }] : [],
    ),
  );
}

/** The bed that is meant by what is chosen: a chosen bed, else the one in which the first of the things lies. */
export function bedOf(plan: Plan, refs: readonly Ref[]): Area | null {
  for (const { table, id } of refs) {
    const area = table === 'areas' ? plan.areas.get(id) : undefined;
    if (area?.use === 'bed') return area;
  }
  for (const ref of refs) {
    const places = placesOf(plan, ref);
    const holder = plan.areas
      .toArray()
      .findLast((area) => area.use === 'bed' && places.length > 0 && holds(area, places));
    if (holder) return holder;
  }
  return null;
}

/** What lies in an area with all its places, itself left out. */
export function allInBed(plan: Plan, bed: Area): Ref[] {
  const box = boxOf(bed.outline);
  if (!box) return [];
  const inBox = ([x, y]: Point) => x >= box.minX && x <= box.maxX && y >= box.minY && y <= box.maxY;
  return TABLES.filter((table) => table !== 'fills').flatMap((table) =>
    [...plan[table]].flatMap(({ id }): Ref[] => {
      if (table === 'areas' && id === bed.id) return [];
      const places = placesOf(plan, { table, id });
      return places.length > 0 && places.every(inBox) && holds(bed, places) ? [{ table, id }] : [];
    }),
  );
}

function holds(area: Area, places: readonly Point[]): boolean {
  return places.every((at) => polygonContains(area.outline, area.holes, at));
}
