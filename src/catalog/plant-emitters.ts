import { FOOT_M, GALLON_L } from '../base/units.ts';
import type { PlantDefaults } from './plants.ts';
import type { Texture } from './soils/index.ts';
import type { Sourced } from './source.ts';

/** Point emitters that a plant usually gets: how many, and the rated flow of each, L/h. */
export interface PlantEmitters extends Sourced {
  readonly count: number;
  readonly flowLph: number;
}

interface TreeRow extends PlantEmitters {
  /** For canopies below this diameter, metres. */
  readonly belowM: number;
}

const mesa =
  'common practice: more and smaller emitters than the 3 to 5, 4 to 6 and 6 to 12 of 2 to 4 gph in City of Mesa AZ, Water Adjustments for Plant Growth';

/** Trees by the diameter of their canopy. */
const TREES: readonly TreeRow[] = [
  {
    belowM: 7 * FOOT_M,
    count: 4,
    flowLph: GALLON_L,
    source: "3 to 5 for a new tree: Arizona cities' Water Use It Wisely, Design and installation tips",
  },
  { belowM: 11 * FOOT_M, count: 6, flowLph: GALLON_L, source: mesa },
  { belowM: 15 * FOOT_M, count: 8, flowLph: GALLON_L, source: mesa },
  { belowM: 21 * FOOT_M, count: 10, flowLph: GALLON_L, source: mesa },
  {
    belowM: Infinity,
    count: 12,
    flowLph: 4 * GALLON_L,
    source: '12 or more of 4 gph: City of Mesa AZ, Water Adjustments for Plant Growth',
  },
];

/** Rounding of a diameter that was measured in feet, so that 15 ft counts as 15. */
const HAIR_M = 1e-6;

/**
 * The usual point emitters of one plant, to tell a flow before anything is drawn.
 * @param canopyM diameter of the canopy to water, metres
 * @param isClose whether canopies close over the bed: then one emitter a shrub is enough
 */
export function usualEmitters(
  plantClass: PlantDefaults['plantClass'],
  canopyM: number,
  isClose: boolean,
): PlantEmitters {
  if (plantClass === 'tree') return TREES.find((row) => canopyM < row.belowM - HAIR_M) ?? TREES.at(-1)!;
  if (plantClass === 'shrub') {
    return {
      count: isClose ? 1 : 2,
      flowLph: GALLON_L,
      source:
        'two a shrub, one in close planting: University of Arizona Extension, Designing a Landscape Drip Irrigation System; 1 gph each: Colorado State University Extension 4.702 (seen in copies)',
    };
  }
  return { count: 1, flowLph: GALLON_L / 2, source: 'common practice: one emitter of 0.5 gph' };
}

/** Whether canopies together cover more than the bed that they stand in, m2: then one shrub's water serves the next. */
export function isClosePlanting(canopiesM2: number, bedM2: number): boolean {
  return bedM2 > 0 && canopiesM2 > bedM2;
}

/** From this canopy on a plant gets two emitters at least, so that one that clogs does not kill it, metres. */
const TWO_FROM_M = 2 * FOOT_M;
const TWO_SOURCE =
  'two at least: University of Arizona Extension, Designing a Landscape Drip Irrigation System';
/** The smallest usual point emitter, L/h. */
const LEAST_LPH = GALLON_L / 2;
/** Soils in which one emitter wets a narrow column, and soils that take its water in slowly. */
const COARSE: readonly Texture[] = ['sand', 'loamy sand'];
const FINE: readonly Texture[] = ['sandy clay', 'silty clay', 'clay'];

/**
 * The emitters to place at one plant: the flow of `usualEmitters`, shared between twice as many of half the size where
 * a shrub of 2 ft and more would hang on a single one, and on sand and clay; a perennial or ground cover over 2 ft gets a
 * second one.
 * @param canopyM diameter of the canopy to water, metres
 * @param isClose whether canopies close over the bed
 * @param texture texture of the soil; `null` is not known
 */
export function placedEmitters(
  plantClass: PlantDefaults['plantClass'],
  canopyM: number,
  isClose: boolean,
  texture: Texture | null,
): PlantEmitters {
  const usual = usualEmitters(plantClass, canopyM, isClose);
  if (usual.flowLph < 2 * LEAST_LPH - HAIR_M) {
    // There is no smaller one to share its flow, so a wide plant gets a second of the same size.
    if (canopyM <= TWO_FROM_M + HAIR_M) return usual;
    return { ...usual, count: 2, source: `${usual.source}; over 2 ft a second one: ${TWO_SOURCE}` };
  }
  const halves = { count: usual.count * 2, flowLph: usual.flowLph / 2 };
  if (usual.count === 1 && canopyM >= TWO_FROM_M - HAIR_M) {
    return {
      ...halves,
      source: `${usual.source}; shared between two, so that one that clogs does not kill: ${TWO_SOURCE}`,
    };
  }
  const isCoarse = texture !== null && COARSE.includes(texture);
  if (isCoarse || (texture !== null && FINE.includes(texture))) {
    const why = isCoarse ? 'an emitter wets a narrow column of sand' : 'clay takes water in slowly';
    return {
      ...halves,
      source: `${usual.source}; twice as many of half the flow, as ${why}: common practice`,
    };
  }
  return usual;
}

/** Dripline that a bed is usually filled with, for the same purpose. */
export const USUAL_DRIPLINE = {
  flowLph: 0.6 * GALLON_L,
  emitterSpacingM: 1.5 * FOOT_M,
  rowSpacingM: 1.5 * FOOT_M,
  source: 'common practice for loam: 0.6 gph emitters 18 in apart in rows 18 in apart',
} as const;
