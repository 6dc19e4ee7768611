import { intersection, regionArea, type Region } from '../../base/clip.ts';
import { memo } from '../../base/memo.ts';
import { boxOf } from '../../base/point.ts';
import { polygonContains } from '../../base/polygon.ts';
import { isClosePlanting, USUAL_DRIPLINE, usualEmitters } from '../../catalog/plant-emitters.ts';
import type { Area, Plan, Plant, PlantKind } from '../../plan/records.ts';
import { facePercent, groundOf } from '../ground/index.ts';
import { buildPlanNetwork } from '../network/index.ts';
import { UnionFind } from '../network/union-find.ts';
import type { PlanNetwork } from '../results.ts';
import { bedShares, nearestZone } from './coverage/shares.ts';
import { surfacesOf } from './coverage/surfaces.ts';
import { surveyedZones, type ExistingZone } from './zones.ts';

/** Flow to expect of a zone once it drips. */
export interface ExpectedDrip {
  readonly lowLph: number;
  readonly highLph: number;
  /** In words, where the two figures come from. */
  readonly how: string;
  /** Rated flow of the drip that is drawn on the zone; `null` before any is. */
  readonly drawnLph: number | null;
  /** With the usual point emitters at each plant; `null` without plants. */
  readonly pointLph: number | null;
  /** With dripline over the zone's beds; `null` without beds. */
  readonly driplineLph: number | null;
}

/**
 * Drip flow of a zone, L/h. Drip that is drawn on it counts at its rated flow. Before that: the usual point emitters
 * by class and mature canopy (`usualEmitters`), and dripline of 0.6 gph at 18 x 18 in over the beds as they lie on the
 * slope (`USUAL_DRIPLINE`); the smaller and the larger of the two. Where canopies together cover more than the beds,
 * the planting counts as close. Plants and beds belong to the zone whose head is nearest; plants on lawn to none.
 * `null` for a zone that is not there or has neither plants nor beds.
 */
export function expectedDripFlow(plan: Plan, zone: string | null): ExpectedDrip | null {
  const { areas, supplies, plants, planting, levels, falls } = plan;
  const zones = surveyedZones(plan);
  const planned = remembered(areas, zones, supplies, plants, planting, levels, falls);
  return withDrawn(planned, buildPlanNetwork(plan)).get(zone) ?? null;
}

/** What is to be expected of a zone before anything is drawn. */
interface Planned {
  readonly zone: string | null;
  /** Its valves; `null` for the only zone, which has all that is drawn. */
  readonly valves: ExistingZone['supplies'] | null;
  readonly hasBedHeads: boolean;
  readonly pointLph: number | null;
  readonly driplineLph: number | null;
}

const remembered = memo(
  (
    areas: Plan['areas'],
    found: readonly ExistingZone[],
    supplies: Plan['supplies'],
    plants: Plan['plants'],
    planting: Plan['planting'],
    levels: Plan['levels'],
    falls: Plan['falls'],
  ): readonly Planned[] => {
    const zones = found.length > 0 ? found : [standIn(supplies)];
    const surfaces = surfacesOf({ areas });
    const shares = bedShares(zones, surfaces);
    const wholeM2 = regionArea(surfaces.bed);
    const byZone = zonePlantsOf(zones, plants, areas);
    const unplaced = unplacedOf(plants, planting.kinds);
    const isOnly = zones.length === 1;
    return zones.map(({ zone, heads, supplies: valves }) => {
      const bed = isOnly ? { region: surfaces.bed, areaM2: wholeM2 } : shares.get(zone);
      const share = isOnly ? 1 : wholeM2 > 0 ? (bed?.areaM2 ?? 0) / wholeM2 : 0;
      return {
        zone,
        valves: isOnly ? null : valves,
        hasBedHeads: heads.some(({ waters }) => waters === 'bed'),
        pointLph: pointFlow(byZone.get(zone) ?? [], unplaced, share, bed?.areaM2 ?? 0),
        driplineLph: bed ? driplineFlow(surfaceArea(bed.region, { levels, falls })) : null,
      };
    });
  },
);

/** Drip that is drawn goes before what is expected. */
const withDrawn = memo(
  (planned: readonly Planned[], network: PlanNetwork): ReadonlyMap<string | null, ExpectedDrip> => {
    const expected = new Map<string | null, ExpectedDrip>();
    for (const { zone, valves, hasBedHeads, pointLph, driplineLph } of planned) {
      const drawnLph = drawnFlow(network, valves);
      const one = expectedOf(drawnLph, pointLph, driplineLph);
      if (one && (valves === null || hasBedHeads || drawnLph !== null)) expected.set(zone, one);
    }
    return expected;
  },
);

function expectedOf(
  drawnLph: number | null,
  pointLph: number | null,
  driplineLph: number | null,
): ExpectedDrip | null {
  const parts = { drawnLph, pointLph, driplineLph };
  if (drawnLph !== null) {
    return { lowLph: drawnLph, highLph: drawnLph, how: 'rated flow of the drip as drawn', ...parts };
  }
  const point = 'point emitters at the plants';
  const dripline = 'dripline over the beds';
  if (pointLph !== null && driplineLph !== null) {
    const [low, high] = pointLph <= driplineLph ? [point, dripline] : [dripline, point];
    return {
      lowLph: Math.min(pointLph, driplineLph),
      highLph: Math.max(pointLph, driplineLph),
      how: `from ${low} to ${high}, before anything is drawn`,
      ...parts,
    };
  }
  const only = pointLph ?? driplineLph;
  if (only === null) return null;
  return {
    lowLph: only,
    highLph: only,
    how: `${pointLph !== null ? point : dripline}, before anything is drawn`,
    ...parts,
  };
}

function plantsByZone(
  zones: readonly ExistingZone[],
  plants: Plan['plants'],
  areas: Plan['areas'],
): ReadonlyMap<string | null, readonly Plant[]> {
  const byZone = new Map<string | null, Plant[]>(zones.map(({ zone }) => [zone, []]));
  const lawns = [...areas].filter(({ use }) => use === 'lawn');
  const beds = [...areas].filter(({ use }) => use === 'bed');
  for (const plant of plants) {
    const within = ({ outline, holes }: Area): boolean => polygonContains(outline, holes, plant.at);
    if (lawns.some(within) && !beds.some(within)) continue;
    const zone = zones.length === 1 ? zones[0]!.zone : nearestZone(zones, plant.at);
    if (zone !== undefined) byZone.get(zone)!.push(plant);
  }
  return byZone;
}

/** The plants of each zone, by the nearest head; those on lawn belong to none. */
export function zonePlants(
  plan: Pick<Plan, 'heads' | 'laterals' | 'supplies' | 'plants' | 'areas'>,
): ReadonlyMap<string | null, readonly Plant[]> {
  return zonePlantsOf(surveyedZones(plan), plan.plants, plan.areas);
}

const zonePlantsOf = memo(plantsByZone);

/** Without heads the first named valve, or nothing at all, stands for the one zone that the plan is about. */
function standIn(supplies: Plan['supplies']): ExistingZone {
  const valve = [...supplies].find(({ zone }) => zone !== null) ?? null;
  return { zone: valve?.zone ?? null, supply: valve, supplies: [...supplies], heads: [], laterals: [] };
}

/** A kind of the plant list with a number. */
export type CountedKind = PlantKind & { readonly count: number };

/** Kinds of the plant list of which fewer are placed than were counted, with how many are left. */
export function unplacedKinds({ plants, planting }: Pick<Plan, 'plants' | 'planting'>): CountedKind[] {
  return unplacedOf(plants, planting.kinds);
}

function unplacedOf(plants: Plan['plants'], kinds: readonly PlantKind[]): CountedKind[] {
  const key = (one: Pick<PlantKind, 'name' | 'plantClass'>): string =>
    `${one.plantClass}/${one.name.trim().toLowerCase()}`;
  const placed = new Map<string, number>();
  for (const plant of plants) placed.set(key(plant), (placed.get(key(plant)) ?? 0) + 1);
  return kinds.flatMap((kind) => {
    const count = (kind.count ?? 0) - (placed.get(key(kind)) ?? 0);
    return count > 0 ? [{ ...kind, count }] : [];
  });
}

function pointFlow(
  plants: readonly Plant[],
  unplaced: readonly CountedKind[],
  share: number,
  bedM2: number,
): number | null {
  const all = [
    ...plants.map((plant) => ({ plant, count: 1 })),
    ...unplaced.map((kind) => ({ plant: kind, count: kind.count * share })),
  ];
  if (!all.some(({ count }) => count > 0)) return null;
  const canopyM2 = all.reduce(
    (sum, { plant, count }) => sum + (count * Math.PI * plant.canopyMatureM ** 2) / 4,
    0,
  );
  const isClose = isClosePlanting(canopyM2, bedM2);
  return all.reduce((sum, { plant, count }) => {
    const usual = usualEmitters(plant.plantClass, plant.canopyMatureM, isClose);
    return sum + count * usual.count * usual.flowLph;
  }, 0);
}

function driplineFlow(areaM2: number): number | null {
  const { flowLph, emitterSpacingM, rowSpacingM } = USUAL_DRIPLINE;
  return areaM2 > 0 ? (areaM2 / (emitterSpacingM * rowSpacingM)) * flowLph : null;
}

/** Area of a region as it lies on the ground, m2: in plan times the root of one plus the slope squared, by face. */
function surfaceArea(region: Region, plan: Pick<Plan, 'levels' | 'falls'>): number {
  const box = boxOf(region.flat());
  const ground = groundOf(plan);
  if (!box || ground.knows !== 'slope') return regionArea(region);
  return ground
    .faces(box)
    .reduce(
      (sum, face) =>
        sum + regionArea(intersection(region, [face.ring])) * Math.hypot(1, facePercent(face) / 100),
      0,
    );
}

/** Rated flow of the outlets that these valves feed, L/h; all of them without `valves`. `null` where there is none. */
function drawnFlow(
  { network, outlets, parts }: PlanNetwork,
  valves: ExistingZone['supplies'] | null,
): number | null {
  if (outlets.length === 0) return null;
  if (!valves) return outlets.reduce((sum, { ratedFlowLph }) => sum + ratedFlowLph, 0);
  const groups = new UnionFind(network.nodes.count);
  for (let link = 0; link < network.links.count; link++) {
    groups.join(network.links.from[link]!, network.links.to[link]!);
  }
  const ids = new Set(valves.map(({ id }) => id));
  const fed = new Set(parts.supplies.filter(({ id }) => ids.has(id)).map(({ node }) => groups.root(node)));
  const own = outlets.filter((_, i) => fed.has(groups.root(network.outlets.node[i]!)));
  return own.length === 0 ? null : own.reduce((sum, { ratedFlowLph }) => sum + ratedFlowLph, 0);
}
