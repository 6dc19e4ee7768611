import type { OutletLaw } from '../../catalog/index.ts';
import { kpaToHead, lphToM3s, outletCoefficient, viscosity } from '../../hydraulics/index.ts';

/** Temperature at which flows are rated, degrees Celsius (common practice). */
const RATED_WATER_C = 20;
/** From this exponent on the flow in the emitter is laminar and goes with the viscosity of the water. */
const LAMINAR_EXPONENT = 1;

/**
 * Coefficient k of q = k h^x, m3/s for metres. A laminar long path gives more in warm water, in proportion to
 * 1/viscosity (Hagen and Poiseuille); the correction is not warranted for x up to 0.5 (Transactions of the CSAE 2012,
 * abstract), and in between only a test tells.
 */
export function coefficientOf(law: OutletLaw, ratedFlowLph: number, waterC: number): number {
  const rated = outletCoefficient(lphToM3s(ratedFlowLph), kpaToHead(law.ratedKpa), law.exponent);
  return law.exponent >= LAMINAR_EXPONENT ? (rated * viscosity(RATED_WATER_C)) / viscosity(waterC) : rated;
}
