import { FOOT_M } from '../../base/units.ts';
import { blankLike, driplineForSoil, ON_SLOPES, tubingFor } from '../../catalog/index.ts';
import { groundOf } from '../../derive/ground/index.ts';
import { textureOf } from '../../derive/soil/index.ts';
import type { Plan, RingChoices } from '../../plan/records.ts';

export interface RingDefaults {
  readonly choices: RingChoices;
  /** Where they come from: emitters; form and places of the rings; distance from the stem; the emitter. */
  readonly sources: {
    readonly soil: string;
    readonly rings: string;
    readonly trunk: string;
    readonly law: string;
  };
  readonly textureKnown: boolean;
  /** Slope at the stem, percent; `null` where none is known. */
  readonly slopePercent: number | null;
  readonly isSlope: boolean;
}

/** No dripline nearer to a stem than this, metres: 12 in, common practice. */
const TRUNK_CLEAR_M = FOOT_M;

/**
 * How a tree is usually ringed on its soil and slope; everything may be chosen otherwise. The canopy as it is now counts
 * where it is measured, else the mature one. A plant that is not on the plan gets the defaults for level ground.
 */
export function ringDefaults(plan: Plan, plantId: string): RingDefaults {
  const plant = plan.plants.get(plantId);
  const { texture } = textureOf(plan.soil);
  const soil = driplineForSoil(texture);
  const ground = groundOf(plan);
  const slopePercent = plant && ground.knows === 'slope' ? ground.slopeAt(plant.at).percent : null;
  const isSlope = slopePercent !== null && slopePercent >= ON_SLOPES.fromPercent;
  const tubing = tubingFor('inline')[0]!.id;
  return {
    choices: {
      clearRows: true,
      form: 'rings',
      canopy: plant && plant.canopyNowM !== null ? 'now' : 'mature',
      ringSpacingM: null,
      trunkClearM: TRUNK_CLEAR_M,
      emitterSpacingM: soil.emitterSpacingM,
      ratedFlowLph: soil.ratedFlowLph,
      law: isSlope ? ON_SLOPES.law : 'inline-pc',
      tubing,
      // One kind of fitting holds both.
      headerTubing: (blankLike(tubing) ?? tubingFor('blank')[0]!).id,
    },
    sources: {
      soil: soil.source,
      rings:
        'common practice: rings at a third, two thirds and the whole of the canopy’s radius, or a spiral',
      trunk: 'common practice: 12 in or more off the trunk',
      law: ON_SLOPES.lawSource,
    },
    textureKnown: texture !== null,
    slopePercent,
    isSlope,
  };
}
