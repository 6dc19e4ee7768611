import { INCH_MM } from '../base/units.ts';
import { tubingById } from '../catalog/index.ts';
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
