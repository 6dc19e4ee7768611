import { memo } from '../../base/memo.ts';
import type { Plan, Plant } from '../../plan/records.ts';
import { rootZone, rootZoneNow } from '../root-zone.ts';
import { wettedAreas, wettingFlowLph, type WettingOutlet, type WettingPlan } from './areas.ts';
import { circleShare } from './circle-share.ts';
import { ellipsesOf, type Ellipses } from './ellipses.ts';
import { knownShare } from './known-shares.ts';

/** Shares of a plant's root zone that get wet, 0 to 1; `now` is null where the present canopy is not measured. */
export interface RootShare {
  readonly now: number | null;
  readonly mature: number;
}

/**
 * Shares of each plant's root zone, now and grown, that the wetted areas of the outlets cover together, within 0.01;
 * outlets that belong to other plants count as well. Remembered for the same outlets and tables.
 */
export function rootShares(
  plan: WettingPlan & Pick<Plan, 'plants'>,
  outlets: readonly WettingOutlet[],
): ReadonlyMap<string, RootShare> {
  return remembered(plan.plants, wettedAreas(plan, outlets));
}

const ellipses = memo(ellipsesOf);

const remembered = memo((plants: Plan['plants'], areas: ReturnType<typeof wettedAreas>) => {
  const wet = ellipses(areas);
  const shares = new Map<string, RootShare>();
  for (const plant of plants) shares.set(plant.id, sharesIn(wet, plant));
  return shares;
});

function sharesIn(wet: Ellipses, plant: Plant): RootShare {
  const matureM = rootZone(plant).outerM;
  const mature = shareOf(wet, plant, matureM);
  const now = rootZoneNow(plant);
  if (!now) return { now: null, mature };
  return { now: now.outerM === matureM ? mature : shareOf(wet, plant, now.outerM), mature };
}

function shareOf(wet: Ellipses, plant: Plant, radiusM: number): number {
  const [x, y] = plant.at;
  const near = wet.near(x - radiusM, y - radiusM, x + radiusM, y + radiusM).sort((p, q) => p - q);
  return knownShare(plant, radiusM, wet, near, () => circleShare(wet, near, x, y, radiusM));
}

/** The shares of one plant alone, where those of all are not needed. */
export function rootShareOf(plan: WettingPlan, outlets: readonly WettingOutlet[], plant: Plant): RootShare {
  return sharesIn(ellipses(wettedAreas(plan, outlets)), plant);
}

/** What waters the root zone of one plant. */
export interface RootZoneWater {
  /** Outlets that stand in the grown plant's root zone, and what they give together. */
  readonly outletCount: number;
  readonly flowLph: number;
}

/** The outlets within the root zone of the grown plant, and their flow; on the edge counts. */
export function rootZoneWater(plant: Plant, outlets: readonly WettingOutlet[]): RootZoneWater {
  const { outerM } = rootZone(plant);
  let outletCount = 0;
  let flowLph = 0;
  for (const outlet of outlets) {
    if (Math.hypot(outlet.at[0] - plant.at[0], outlet.at[1] - plant.at[1]) > outerM + 1e-9) continue;
    outletCount += 1;
    flowLph += wettingFlowLph(outlet);
  }
  return { outletCount, flowLph };
}

/** The flow that most of the outlets have, L/h, to a hundredth; `null` without outlets that give water. */
export function usualFlowLph(outlets: readonly WettingOutlet[]): number | null {
  const counts = new Map<number, number>();
  for (const { ratedFlowLph } of outlets) {
    if (!(ratedFlowLph > 0) || !Number.isFinite(ratedFlowLph)) continue;
    const flowLph = Math.round(ratedFlowLph * 100) / 100;
    counts.set(flowLph, (counts.get(flowLph) ?? 0) + 1);
  }
  let most: number | null = null;
  for (const [flowLph, count] of counts) if (most === null || count > counts.get(most)!) most = flowLph;
  return most;
}

/** A plant with its shares. */
export interface DriestPlant {
  readonly plant: Plant;
  readonly share: RootShare;
}

/** The plants of which the smallest share gets wet once they are grown, driest first; in the plan's order where alike. */
export function driestPlants(
  plants: Plan['plants'],
  shares: ReadonlyMap<string, RootShare>,
  most = 10,
): readonly DriestPlant[] {
  return plants
    .toArray()
    .flatMap((plant): DriestPlant[] => {
      const share = shares.get(plant.id);
      return share ? [{ plant, share }] : [];
    })
    .sort((a, b) => a.share.mature - b.share.mature)
    .slice(0, most);
}

/** Share of the root zone that is to be wetted: 50 to 75 % of the canopy of an established tree. */
export const WETTED_AIM = { least: 0.5, treeAim: 0.75 } as const;
export const WETTED_AIM_SOURCE =
  'Trees: 50 to 75 % of the canopy area, Southern Nevada Water Authority. Shrubs at least 50 %: common practice';
