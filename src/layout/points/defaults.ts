import { ON_SLOPES } from '../../catalog/index.ts';
import { groundOf } from '../../derive/ground/index.ts';
import type { Plan, Plant } from '../../plan/records.ts';
import { USUAL_POINTS, type PointChoices } from './choices.ts';

/** The usual emitter on a slope: it compensates and holds back water, as that of rows does (`ON_SLOPES.law`). */
const LAW_ON_SLOPES = 'point-pc-check';

export interface PointDefaults {
  readonly choices: PointChoices;
  /** Why it is this emitter; `null` where the ground asks for none in particular. */
  readonly lawSource: string | null;
}

/**
 * How some plants are usually given emitters. Where the ground at any of them falls by 5 percent or more, all take
 * emitters with a check, so that the tubing does not drain at the lowest.
 */
export function pointDefaults(plan: Pick<Plan, 'levels' | 'falls'>, plants: readonly Plant[]): PointDefaults {
  const ground = groundOf(plan);
  const isSlope =
    ground.knows === 'slope' &&
    plants.some(
      ({ at }) => at.every(Number.isFinite) && ground.slopeAt(at).percent >= ON_SLOPES.fromPercent - 1e-9,
    );
  return isSlope
    ? { choices: { ...USUAL_POINTS, law: LAW_ON_SLOPES }, lawSource: ON_SLOPES.lawSource }
    : { choices: USUAL_POINTS, lawSource: null };
}
