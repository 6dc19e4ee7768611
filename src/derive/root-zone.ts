import { FOOT_M, INCH_MM } from '../base/units.ts';
import { rootZoneRadius } from '../catalog/index.ts';
import type { Plant } from '../plan/records.ts';

/** Nearest that an emitter may sit to a stem, metres: 6 in (trade guidance for point emitters; keeps the crown dry). */
export const STEM_CLEARANCE_M = (6 * INCH_MM) / 1000;

/** Nearest that an emitter may sit to the trunk of a tree, metres: 12 in, common practice. */
const TRUNK_CLEARANCE_M = FOOT_M;

/**
 * Distance that emitters keep from a plant's stem, metres: 6 in, from the trunk of a tree 12 in. Of a new tree that has a
 * small root ball no more than to the ball's edge, where the emitter has to sit.
 */
export function stemClearance({ plantClass, rootBallM }: Pick<Plant, 'plantClass' | 'rootBallM'>): number {
  if (plantClass !== 'tree') return STEM_CLEARANCE_M;
  return rootBallM === null
    ? TRUNK_CLEARANCE_M
    : Math.max(STEM_CLEARANCE_M, Math.min(TRUNK_CLEARANCE_M, rootBallM / 2));
}

/** Ring about a plant in which an emitter reaches the roots, metres from the stem. */
export function rootZone(plant: Pick<Plant, 'plantClass' | 'canopyMatureM'>): {
  readonly innerM: number;
  readonly outerM: number;
} {
  const outerM = Math.max(rootZoneRadius(plant.plantClass, plant.canopyMatureM), STEM_CLEARANCE_M);
  return { innerM: Math.min(STEM_CLEARANCE_M, outerM), outerM };
}

/**
 * The same for the plant as it stands: from its present canopy, and at least its root ball. `null` where the present
 * canopy is not measured.
 */
export function rootZoneNow(
  plant: Pick<Plant, 'plantClass' | 'canopyNowM' | 'rootBallM'>,
): { readonly innerM: number; readonly outerM: number } | null {
  if (plant.canopyNowM === null) return null;
  const ballM = (plant.rootBallM ?? 0) / 2;
  const outerM = Math.max(rootZoneRadius(plant.plantClass, plant.canopyNowM), ballM, STEM_CLEARANCE_M);
  return { innerM: Math.min(STEM_CLEARANCE_M, outerM), outerM };
}
