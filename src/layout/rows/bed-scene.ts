import { difference, NOWHERE, regionArea, regionOf, union, type Region } from '../../base/clip.ts';
import { boxOf, type Box, type Point } from '../../base/point.ts';
import { bad, type Result } from '../../base/result.ts';
import { surfacesAmong } from '../../derive/existing/coverage/surfaces.ts';
import type { Ground } from '../../derive/ground/index.ts';
import type { Area, Plan } from '../../plan/records.ts';
import { MOST_EMITTERS, type FillChoices, type FillFigures } from './choices.ts';

/** A bed that is to be filled, examined and measured. */
export interface BedScene {
  readonly plan: Plan;
  readonly bed: Area;
  /** What it is called in messages. */
  readonly name: string;
  readonly ground: Ground;
  /** Rise per metre east and north of the plane that lies nearest to its ground. */
  readonly gradient: Point;
  /** Where dripline may lie. */
  readonly region: Region;
  readonly choices: FillChoices;
  /** Nobody reads the notes: what goes beyond a limit is not looked for, which takes longer than the rows. */
  readonly quiet: boolean;
}

/** Share of a lawn that may stick out of a bed in which it still counts as lying. */
const WITHIN = 0.001;

/**
 * Ground of a bed in which dripline may lie, before the distance from its edge: off buildings, paving and what is left
 * out. Where areas overlap the ground is what `surfacesOf` says: a bed that is an island in paving, or is cut into a
 * lawn, is a bed. Of lawns only one that lies wholly in the bed stays out of it.
 */
export function openGround(plan: Plan, bed: Area, leaveOut: readonly string[]): Region {
  const box = boxOf(bed.outline);
  if (!box) return NOWHERE;
  const about = [...plan.areas].filter(({ id, outline }) => {
    const other = boxOf(outline);
    return id === bed.id || (other !== null && meet(box, other));
  });
  const whole = regionOf(bed.outline, bed.holes);
  const out = about.flatMap(({ id, use, outline, holes }): Region[] => {
    if (id === bed.id || (use !== 'lawn' && !leaveOut.includes(id))) return [];
    const region = regionOf(outline, holes);
    return leaveOut.includes(id) || isWithin(region, whole) ? [region] : [];
  });
  const open = surfacesAmong(about).beds.find(({ id }) => id === bed.id)?.region ?? NOWHERE;
  return difference(open, union(out));
}

/** Whether a region lies in another, and is not as good as all of it. */
function isWithin(region: Region, whole: Region): boolean {
  const areaM2 = regionArea(region);
  return (
    areaM2 < regionArea(whole) * (1 - WITHIN) && regionArea(difference(region, whole)) <= WITHIN * areaM2
  );
}

const meet = (a: Box, b: Box): boolean =>
  a.minX <= b.maxX && b.minX <= a.maxX && a.minY <= b.maxY && b.minY <= a.maxY;

export function noRoom({ name }: BedScene): Result<never> {
  return bad(
    'bed',
    `Bed “${name}” has no room for a row of at least one emitter spacing`,
    'Lessen the distance from the edge or the emitter spacing, or leave less out.',
  );
}

export function allTooShort({ name }: BedScene): Result<never> {
  return bad(
    'bed',
    `All rows of bed “${name}” would be shorter than one emitter spacing`,
    'Lessen the emitter spacing, or turn the rows.',
  );
}

export function tooManyRows({ name }: BedScene, about: number, most: number): Result<never> {
  return bad(
    'rowSpacingM',
    `Bed “${name}” would have about ${Math.round(about)} rows; at most ${most} are drawn`,
    'Widen the row spacing, or split the bed.',
  );
}

/** `null` where the emitters are not too many. */
export function tooManyEmitters({ name }: BedScene, { emitters }: FillFigures): Result<never> | null {
  if (emitters <= MOST_EMITTERS) return null;
  return bad(
    'emitterSpacingM',
    `Bed “${name}” would have ${emitters} emitters; at most ${MOST_EMITTERS} are drawn`,
    'Widen the spacings, or split the bed.',
  );
}
