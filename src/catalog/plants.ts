import { FOOT_M } from '../base/units.ts';
import type { Sourced } from './source.ts';

/** What to assume of a plant of one class until it is measured. */
export interface PlantDefaults extends Sourced {
  readonly plantClass: 'tree' | 'shrub' | 'perennial' | 'groundcover';
  readonly canopyNowM: number;
  readonly canopyMatureM: number;
  readonly rootBallM: number;
  /** Radius of the zone in which an emitter reaches the roots, as a share of the mature canopy radius. */
  readonly rootZoneShare: number;
}

const source =
  'common practice for canopies; roots reach 1.5 to 3 canopy widths (University of Arizona, Cochise Master Gardeners), here kept to the canopy';

export const PLANT_DEFAULTS: readonly PlantDefaults[] = [
  {
    plantClass: 'tree',
    canopyNowM: 5 * FOOT_M,
    canopyMatureM: 15 * FOOT_M,
    rootBallM: 2 * FOOT_M,
    rootZoneShare: 1,
    source,
  },
  {
    plantClass: 'shrub',
    canopyNowM: 2 * FOOT_M,
    canopyMatureM: 4 * FOOT_M,
    rootBallM: FOOT_M,
    rootZoneShare: 1,
    source,
  },
  {
    plantClass: 'perennial',
    canopyNowM: FOOT_M,
    canopyMatureM: 2 * FOOT_M,
    rootBallM: 0.5 * FOOT_M,
    rootZoneShare: 1,
    source,
  },
  {
    plantClass: 'groundcover',
    canopyNowM: FOOT_M,
    canopyMatureM: 3 * FOOT_M,
    rootBallM: FOOT_M / 3,
    rootZoneShare: 1,
    source,
  },
];

/** Radius of the zone in which an emitter reaches the roots of a plant, metres. */
export function rootZoneRadius(plantClass: PlantDefaults['plantClass'], canopyMatureM: number): number {
  return (canopyMatureM / 2) * plantDefaults(plantClass).rootZoneShare;
}

export function plantDefaults(plantClass: PlantDefaults['plantClass']): PlantDefaults {
  return PLANT_DEFAULTS.find((entry) => entry.plantClass === plantClass)!;
}
