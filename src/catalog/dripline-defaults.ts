import { FOOT_M, GALLON_L } from '../base/units.ts';
import type { Texture } from './soils/textures.ts';
import type { Sourced } from './source.ts';

/** Dripline that suits a group of soils: how far water spreads sideways sets the spacings, intake sets the flow. */
export interface DriplineForSoil extends Sourced {
  readonly group: 'coarse' | 'medium' | 'clay loam' | 'clay';
  readonly textures: readonly Texture[];
  /** Between rows and between emitters along a row, metres. */
  readonly rowSpacingM: number;
  readonly emitterSpacingM: number;
  readonly ratedFlowLph: number;
  /** Emitters farther apart than this leave dry ground between them, metres. */
  readonly spreadM: number;
}

const INCH_M = FOOT_M / 12;
const usual = 'common practice: tables of the trade, which agree within a fifth';
const spread =
  'emitters 12 in apart in sand, 18 in loam, 24 in clay: San Diego Union-Tribune, garden questions, 16 Jun 2012';

/** Coarse to fine. */
export const DRIPLINE_FOR_SOIL: readonly DriplineForSoil[] = [
  {
    group: 'coarse',
    textures: ['sand', 'loamy sand'],
    rowSpacingM: 12 * INCH_M,
    emitterSpacingM: 12 * INCH_M,
    ratedFlowLph: 0.9 * GALLON_L,
    spreadM: 12 * INCH_M,
    source: `${usual}: 12 by 12 in, 0.9 gph; ${spread}`,
  },
  {
    group: 'medium',
    textures: ['sandy loam', 'loam', 'silt loam', 'silt', 'sandy clay loam'],
    rowSpacingM: 18 * INCH_M,
    emitterSpacingM: 18 * INCH_M,
    ratedFlowLph: 0.6 * GALLON_L,
    spreadM: 18 * INCH_M,
    source: `${usual}: 18 by 18 in, 0.6 gph; ${spread}`,
  },
  {
    group: 'clay loam',
    textures: ['clay loam', 'silty clay loam'],
    rowSpacingM: 18 * INCH_M,
    emitterSpacingM: 18 * INCH_M,
    ratedFlowLph: 0.4 * GALLON_L,
    spreadM: 24 * INCH_M,
    source: `${usual}: 18 by 18 in, 0.26 to 0.4 gph; ${spread}`,
  },
  {
    group: 'clay',
    textures: ['sandy clay', 'silty clay', 'clay'],
    rowSpacingM: 24 * INCH_M,
    emitterSpacingM: 18 * INCH_M,
    ratedFlowLph: 0.26 * GALLON_L,
    spreadM: 24 * INCH_M,
    source: `${usual}: 18 to 24 by 18 in, 0.26 to 0.4 gph; ${spread}`,
  },
];

/** The dripline for a texture; that for loams where it is not known. */
export function driplineForSoil(texture: Texture | null): DriplineForSoil {
  const found = DRIPLINE_FOR_SOIL.find(({ textures }) => texture !== null && textures.includes(texture));
  return found ?? DRIPLINE_FOR_SOIL[1]!;
}

/** From the edge of the bed to the first row, and how far it may lie from it, metres. */
export const FIRST_ROW = {
  edgeM: 4 * INCH_M,
  leastM: 2 * INCH_M,
  mostM: 8 * INCH_M,
  source: 'common practice: 2 to 4 in inside paving, never over 8 in',
} as const;

/** What is different on slopes. */
export const ON_SLOPES = {
  /** Mean slope of the bed from which it counts as one, percent. */
  fromPercent: 5,
  /** Row spacing in the lowest third of the bed over that above it, since water seeps down. */
  lowerThirdFactor: 1.25,
  source: 'common practice: rows along the contour, 25 % wider in the lowest third',
  /** Emitters that compensate and hold back water. */
  law: 'inline-pc-check',
  lawSource:
    'US EPA WaterSense, Microirrigation optional-measure sheet: compensating emitters where heights differ much; built-in checks: common practice',
} as const;

/**
 * What 3/4 in tubing carries, L/h. The source names 320 gph as well; 5 ft/s in a bore of 0.820 in is 494 gph, so the
 * larger figure is meant as the most.
 */
export const THREE_QUARTER_LIMIT = {
  flowLph: 480 * GALLON_L,
  source:
    'extension horticulturist, answer on flow in drip tubing, 31 Jul 2023: 480 gph (320 in the same answer)',
} as const;

/** Speed above which no blank tubing is designed, m/s: 5 ft/s. */
const MOST_SPEED = { ms: 5 * FOOT_M, source: 'common practice: 5 ft/s at most' } as const;

/**
 * The most that blank tubing of a bore carries, L/h, and on what length where that is said: 1/2 in tubing by
 * `HALF_INCH_LIMIT`, 3/4 in by `THREE_QUARTER_LIMIT`, others by speed (flow = speed x area of the bore).
 */
export function tubingCarries(
  boreMm: number,
): Sourced & { readonly flowLph: number; readonly lengthM: number | null } {
  if (boreMm >= 11 && boreMm < 18) return HALF_INCH_LIMIT;
  if (boreMm >= 18 && boreMm < 24) return { ...THREE_QUARTER_LIMIT, lengthM: null };
  const areaM2 = (Math.PI / 4) * (boreMm / 1000) ** 2;
  return { flowLph: MOST_SPEED.ms * areaM2 * 3.6e6, lengthM: null, source: MOST_SPEED.source };
}

/** What half-inch tubing carries. */
export const HALF_INCH_LIMIT = {
  lengthM: 200 * FOOT_M,
  flowLph: 200 * GALLON_L,
  source: 'Arizona cities, Water Use It Wisely, design and installation tips: 200 ft and 200 gph',
} as const;
