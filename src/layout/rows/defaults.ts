import { blankLike, driplineForSoil, FIRST_ROW, ON_SLOPES, tubingFor } from '../../catalog/index.ts';
import { bedSlope, textureOf } from '../../derive/soil/index.ts';
import type { Plan } from '../../plan/records.ts';
import type { FillChoices } from './choices.ts';
import { usualHeader, usualPattern } from './usual-pattern.ts';

export interface FillDefaults {
  readonly choices: FillChoices;
  /** Where they come from: spacings and flow; edge; what slopes change; emitter; pattern; header tubing. */
  readonly sources: {
    readonly soil: string;
    readonly edge: string;
    readonly slope: string;
    readonly law: string;
    readonly pattern: string;
    readonly header: string;
  };
  /** Whether the soil's texture is known, and the mean slope of the bed, percent, where that is. */
  readonly textureKnown: boolean;
  readonly slopePercent: number | null;
  readonly isSlope: boolean;
}

/** How a bed is usually filled on its soil and slope; everything may be chosen otherwise. */
export function fillDefaults(plan: Plan, areaId: string): FillDefaults {
  const { texture } = textureOf(plan.soil);
  const soil = driplineForSoil(texture);
  const slope = bedSlope(plan, areaId);
  const isSlope = slope !== null && slope.meanPercent >= ON_SLOPES.fromPercent;
  const bed = plan.areas.get(areaId);
  const spacing = { ...soil, edgeM: FIRST_ROW.edgeM };
  const usual = bed && usualPattern(plan, bed, isSlope, spacing);
  const tubing = tubingFor('inline')[0]!.id;
  const header = bed && usualHeader(plan, bed, slope?.meanPercent ?? null, { ...spacing, tubing });
  return {
    choices: {
      pattern: usual?.pattern ?? 'straight',
      rowSpacingM: soil.rowSpacingM,
      emitterSpacingM: soil.emitterSpacingM,
      ratedFlowLph: soil.ratedFlowLph,
      law: isSlope ? ON_SLOPES.law : 'inline-pc',
      tubing,
      headerTubing: header?.tubing ?? (blankLike(tubing) ?? tubingFor('blank')[0]!).id,
      edgeM: FIRST_ROW.edgeM,
      direction: isSlope ? 'contour' : 'long edge',
      stagger: true,
      lowerThirdFactor: isSlope ? ON_SLOPES.lowerThirdFactor : 1,
      leaveOut: [],
      headers: 'both ends',
      equalise: true,
    },
    sources: {
      soil: soil.source,
      edge: FIRST_ROW.source,
      slope: ON_SLOPES.source,
      law: ON_SLOPES.lawSource,
      pattern: usual?.source ?? '',
      header: header?.source ?? '',
    },
    textureKnown: texture !== null,
    slopePercent: slope?.meanPercent ?? null,
    isSlope,
  };
}
