import { INCH_MM } from '../base/units.ts';
import { rootZoneRadius } from '../catalog/index.ts';
import type { Plant } from '../plan/records.ts';

/** Nearest that an emitter may sit to a stem, metres: 6 in (trade guidance for point emitters; keeps the crown dry). */
export const STEM_CLEARANCE_M = (6 * INCH_MM) / 1000;

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
