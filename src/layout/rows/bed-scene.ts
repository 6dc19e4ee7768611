import { difference, regionOf, union, type Region } from '../../base/clip.ts';
import type { Point } from '../../base/point.ts';
import { bad, type Result } from '../../base/result.ts';
import type { Ground } from '../../derive/ground/index.ts';
import type { Area, AreaUse, Plan } from '../../plan/records.ts';
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

/** Areas of these uses are never under dripline. */
const ALWAYS_OUT: readonly AreaUse[] = ['paving', 'building', 'lawn'];

/** Ground of a bed in which dripline may lie, before the distance from its edge. */
export function openGround(plan: Plan, bed: Area, leaveOut: readonly string[]): Region {
  const out = [...plan.areas].filter(
    ({ id, use }) => id !== bed.id && (ALWAYS_OUT.includes(use) || leaveOut.includes(id)),
  );
  return difference(
    regionOf(bed.outline, bed.holes),
    union(out.map(({ outline, holes }) => regionOf(outline, holes))),
  );
}

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
