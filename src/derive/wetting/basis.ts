import {
  LEAST_WET_WIDTH_M,
  MOST_WET_WIDTH_M,
  SPREAD_TABLES,
  volumeToDepthL,
  wetBulb,
  WETTING_SOURCE,
  type Texture,
} from '../../catalog/index.ts';
import type { Plan } from '../../plan/records.ts';
import { textureOf } from '../soil/texture.ts';

/** Taken where the survey has no root depth, metres: 2 ft, shrubs (AMWUA: ground cover, shrub, tree 1, 2, 3 ft). */
export const USUAL_ROOT_DEPTH_M = 0.61;
export const ROOT_DEPTH_SOURCE =
  'root depth of shrubs, 2 ft: Arizona Municipal Water Users Association; set it in the soil survey';
/** Taken where the texture is not known. */
export const USUAL_TEXTURE: Texture = 'loam';

/** Root depths beyond these are taken as the limit, metres. */
const LEAST_DEPTH_M = 0.05;
const MOST_DEPTH_M = 3;
const MOST_MINUTES = 24 * 60;
/**
 * No longer than this counts where no watering is set, hours (common practice: a long night). In fine soil the relation
 * would else take days to the root depth and show far too wide a stain.
 */
export const LONGEST_UNSET_H = 6;

/** What the wetted soil is reckoned from. */
export interface WettingBasis {
  readonly texture: Texture;
  readonly rootDepthM: number;
  /** Minutes that the outlets run on a watering day; `null`: until the root depth is wet, `LONGEST_UNSET_H` at most. */
  readonly minutes: number | null;
  /** What was not known and what was taken for it, in sentences. */
  readonly missing: readonly string[];
  readonly source: string;
}

type BasisFacts = Pick<Plan, 'soil' | 'supplies'>;

/**
 * Texture, root depth and time of watering of a plan. The time is minutes a start times starts a day, since what is
 * given on one day feeds one wet bulb; with valves that are watered for different times the shortest one, so that
 * nothing is shown as wet that may stay dry.
 */
export function wettingBasis({ soil, supplies }: BasisFacts): WettingBasis {
  const missing: string[] = [];
  const known = textureOf(soil);
  if (known.disagreement) missing.push(known.disagreement);
  if (!known.texture) missing.push('Soil texture is not known: loam is taken. Test the soil in Survey.');
  const depthKnown = soil.rootDepthM !== null && soil.rootDepthM > 0;
  if (!depthKnown) missing.push('Root depth is not set: 2 ft (0.6 m) is taken. Set it in Survey.');
  const times = [...supplies].flatMap(({ watering }) => {
    const minutes = watering ? watering.minutesPerStart * watering.startsPerDay : NaN;
    return minutes > 0 && Number.isFinite(minutes) ? [Math.min(minutes, MOST_MINUTES)] : [];
  });
  const minutes = times.length ? times.reduce((a, b) => Math.min(a, b)) : null;
  if (minutes !== null && times.some((time) => time !== minutes))
    missing.push('The valves are watered for different times: the shortest is taken.');
  const rootDepthM = depthKnown ? soil.rootDepthM! : USUAL_ROOT_DEPTH_M;
  return {
    texture: known.texture ?? USUAL_TEXTURE,
    rootDepthM: Math.min(MOST_DEPTH_M, Math.max(LEAST_DEPTH_M, rootDepthM)),
    minutes,
    missing,
    source: WETTING_SOURCE,
  };
}

/** Half the width of the wet soil under an outlet, metres, within sane limits; 0 without flow. */
export function wetRadiusM({ texture, rootDepthM, minutes }: WettingBasis, flowLph: number): number {
  if (!(flowLph > 0) || !Number.isFinite(flowLph)) return 0;
  const volumeL =
    minutes === null
      ? Math.min(volumeToDepthL(texture, flowLph, rootDepthM), flowLph * LONGEST_UNSET_H)
      : (flowLph * minutes) / 60;
  const { widthM } = wetBulb(texture, flowLph, volumeL);
  return Math.min(MOST_WET_WIDTH_M, Math.max(LEAST_WET_WIDTH_M, widthM)) / 2;
}

/** A width of wet soil by one source, metres. */
export interface WetWidth {
  readonly name: string;
  readonly widthM: number;
  readonly source: string;
  /** Whether it is the one to reckon with. */
  readonly used: boolean;
}

/** What the sources say of the width under an outlet of `flowLph`; the tables know about 1 gph (3.8 L/h) only. */
export function wetWidths(basis: WettingBasis, flowLph: number): readonly WetWidth[] {
  return [
    {
      name: 'Relation by flow and conductivity',
      widthM: 2 * wetRadiusM(basis, flowLph),
      source: basis.source,
      used: true,
    },
    ...SPREAD_TABLES.map(({ name, source, width }) => ({
      name,
      widthM: width(basis.texture, basis.rootDepthM),
      source,
      used: false,
    })),
  ];
}
