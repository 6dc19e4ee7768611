import { tightBends } from '../base/bends.ts';
import { distance, type Path, type Point } from '../base/point.ts';
import { INCH_MM } from '../base/units.ts';
import { tubingById } from '../catalog/index.ts';
import { JOINT_TOLERANCE_M } from '../plan/joining.ts';
import type { Limit } from './checks/check.ts';

const inches = (count: number) => (count * INCH_MM) / 1000;

/** Published figures were not found; these are what hands find with warm tubing. */
export const BEND_SOURCE =
  'common practice: least radius by hand when warm about 6 in for 1/2 in tubing, 8 in for thick dripline, 12 in for 3/4 in tubing; no published figure found';

const limit = (key: string, label: string, usual: number): Limit => ({
  key: `bend-tight.${key}`,
  label,
  kind: 'length',
  usual,
  least: inches(1),
  most: inches(40),
  source: BEND_SOURCE,
});

/** Least radius to which each size of tubing is bent, metres. */
export const BEND_LIMITS = {
  half: limit('half', 'Least bend of 1/2 in tubing', inches(6)),
  dripline: limit('dripline', 'Least bend of dripline', inches(8)),
  threeQuarter: limit('three-quarter', 'Least bend of 3/4 in tubing', inches(12)),
} as const;

/** Outside diameters below and above which other tubing than 1/2 in begins, millimetres. */
const THIN_MM = 10;
const THICK_MM = 20;

/** The limit for a tubing by its catalog id; null for thin tubes, which bend as they like, and for unknown ones. */
export function bendLimitOf(tubing: string): Limit | null {
  const entry = tubingById(tubing);
  if (!entry || entry.outerDiameterMm < THIN_MM) return null;
  if (entry.outerDiameterMm >= THICK_MM) return BEND_LIMITS.threeQuarter;
  return entry.use === 'inline' ? BEND_LIMITS.dripline : BEND_LIMITS.half;
}

/** A corner this near to a joint with another run lies in or beside its fitting, metres. */
export const FITTING_M = 0.05;

/**
 * Corners of a run that are tighter than a radius, without those at a fitting: where another run joins, and where both
 * ends of a ring meet.
 * @param joins whether another run passes within `FITTING_M` of a place
 */
export function tightCorners(path: Path, radiusM: number, joins: (at: Point) => boolean): Point[] {
  const isRing = path.length > 2 && distance(path[0]!, path.at(-1)!) <= JOINT_TOLERANCE_M;
  return tightBends(path, radiusM)
    .map(({ at }) => at)
    .filter((at) => !(isRing && distance(at, path[0]!) <= FITTING_M))
    .filter((at) => !joins(at));
}
