import { difference, regionArea, regionOf, union, type Region } from '../../../base/clip.ts';
import { memo } from '../../../base/memo.ts';
import type { Area, Plan } from '../../../plan/records.ts';
import type { Building } from './shadow.ts';

/** One bed, less what lies on it. */
export interface BedGround {
  readonly id: string;
  readonly region: Region;
  readonly areaM2: number;
}

/** The plan's ground by what it is; no two of them overlap. */
export interface Surfaces {
  readonly buildings: readonly Building[];
  readonly building: Region;
  readonly paving: Region;
  readonly bed: Region;
  readonly lawn: Region;
  /** The beds one by one; they may overlap each other. */
  readonly beds: readonly BedGround[];
}

/** Share of a bed that may stick out of a paving in which it still counts as an island. */
const ISLAND = 0.001;

/**
 * What the ground is where areas overlap: a building goes before paving, paving before bed, bed before lawn, as one
 * would see it from above: a walk lies across a bed, a bed is cut into a lawn. A bed wholly inside of a paving is an
 * island in it and stays a bed. Remembered while the areas are the same.
 */
export function surfacesOf({ areas }: Pick<Plan, 'areas'>): Surfaces {
  return remembered(areas);
}

/** The same among some areas only, not remembered: for the ground about one of them. */
export function surfacesAmong(areas: Iterable<Area>): Surfaces {
  const all = [...areas];
  const of = (use: Area['use']): { readonly area: Area; readonly region: Region }[] =>
    all
      .filter((area) => area.use === use)
      .map((area) => ({ area, region: regionOf(area.outline, area.holes) }));
  const bedAreas = of('bed');
  const buildings = of('building').map(({ area, region }): Building => ({
    region,
    outline: area.outline,
    holes: area.holes,
  }));
  const building = union(buildings.map(({ region }) => region));
  const slabs = of('paving').map(({ region }) => {
    const islands = bedAreas.filter(
      (bed) => regionArea(difference(bed.region, region)) <= ISLAND * regionArea(bed.region),
    );
    return difference(region, union(islands.map((bed) => bed.region)));
  });
  const paving = difference(union(slabs), building);
  const hard = union([building, paving]);
  const beds = bedAreas.map(({ area, region }): BedGround => {
    const open = difference(region, hard);
    return { id: area.id, region: open, areaM2: regionArea(open) };
  });
  const bed = union(beds.map(({ region }) => region));
  const lawn = difference(union(of('lawn').map(({ region }) => region)), union([hard, bed]));
  return { buildings, building, paving, bed, lawn, beds };
}

const remembered = memo((areas: Plan['areas']): Surfaces => surfacesAmong(areas));
