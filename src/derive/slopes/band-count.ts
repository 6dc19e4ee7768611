import { FOOT_M } from '../../base/units.ts';

/** A band of a slope rises by about so much, metres (10 ft: 4.3 psi). */
export const BAND_RISE_M = 10 * FOOT_M;
/** Up to this rise a slope is watered as one, metres (5 ft: 2.2 psi). */
export const ONE_BAND_RISE_M = 5 * FOOT_M;
export const BANDS_SOURCE =
  'common practice: bands of about 10 ft of rise (4.3 psi), two from about 5 ft (2.2 psi)';

/** Rounding of heights that does not make one more band, metres. */
const HAIR_M = 1e-6;

/**
 * How many bands of equal rise a slope is split into: as few as rise by no more than `mostM` each. Without it as is
 * usual: one up to 5 ft, then at least two of at most 10 ft.
 * @param riseM highest less lowest height, metres
 */
export function bandCount(riseM: number, mostM: number | null = null): number {
  if (!(riseM > 0)) return 1;
  const atMost = (most: number): number => Math.max(1, Math.ceil((riseM - HAIR_M) / most));
  if (mostM !== null) return atMost(mostM);
  return riseM <= ONE_BAND_RISE_M + HAIR_M ? 1 : Math.max(2, atMost(BAND_RISE_M));
}
