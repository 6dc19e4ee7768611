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
  { plantClass: 'tree', canopyNowM: 1.5, canopyMatureM: 4.5, rootBallM: 0.6, rootZoneShare: 1, source },
  { plantClass: 'shrub', canopyNowM: 0.5, canopyMatureM: 1.2, rootBallM: 0.3, rootZoneShare: 1, source },
  { plantClass: 'perennial', canopyNowM: 0.3, canopyMatureM: 0.6, rootBallM: 0.15, rootZoneShare: 1, source },
  {
    plantClass: 'groundcover',
    canopyNowM: 0.3,
    canopyMatureM: 0.9,
    rootBallM: 0.1,
    rootZoneShare: 1,
    source,
  },
];

export function plantDefaults(plantClass: PlantDefaults['plantClass']): PlantDefaults {
  return PLANT_DEFAULTS.find((entry) => entry.plantClass === plantClass)!;
}
