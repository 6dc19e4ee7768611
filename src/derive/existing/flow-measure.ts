import { headToKpa, m3sToLph } from '../../hydraulics/index.ts';
import type { WorkingPoint } from '../../plan/records.ts';
import { SERVICE_EXPONENT, supplyCurve } from '../network/supply-curve.ts';

/** Ways to get a flow from what can be read on the site. `null` where the figures give none. */

/**
 * Flow from a filled bucket, L/h: gpm = 60 x gallons / seconds (NCAT/ATTRA, Measuring and Conserving Irrigation
 * Water, 2006), the same in any unit of volume.
 * @param volumeL water caught, litres, above 0
 * @param seconds time that it took, above 0
 */
export function bucketFlowLph(volumeL: number, seconds: number): number | null {
  return volumeL > 0 && seconds > 0 ? finite((3600 * volumeL) / seconds) : null;
}

/**
 * Flow from two readings of a meter, L/h: difference of the readings over the minutes between them.
 * @param beforeL first reading, litres
 * @param afterL second reading, litres, above the first: a dial that has gone past its end is to be read on
 * @param minutes time between, above 0
 */
export function meterFlowLph(beforeL: number, afterL: number, minutes: number): number | null {
  return afterL > beforeL && minutes > 0 ? finite((60 * (afterL - beforeL)) / minutes) : null;
}

/**
 * Flow at which a gauge shows a pressure, L/h, read from the curve through the static pressure and the measured
 * working points (losses grow with flow to the power 1.85 up to the first point and past the last, the power law
 * through both between two). `null` without a usable working point, or where the pressure is not below the static one.
 */
export function gaugeFlowLph(
  staticKpa: number,
  points: readonly WorkingPoint[],
  pressureKpa: number,
): number | null {
  const { curve } = supplyCurve(staticKpa, points);
  const lossKpa = staticKpa - pressureKpa;
  if (!curve || !(lossKpa > 0)) return null;
  const losses = [...curve.lossM].map(headToKpa);
  const last = losses.length - 1;
  const above = losses.findIndex((loss) => loss >= lossKpa);
  if (above <= 0) {
    const known = above < 0 ? last : 0;
    return finite(m3sToLph(curve.flowM3s[known]!) * (lossKpa / losses[known]!) ** (1 / SERVICE_EXPONENT));
  }
  const share = Math.log(lossKpa / losses[above - 1]!) / Math.log(losses[above]! / losses[above - 1]!);
  const [from, to] = [curve.flowM3s[above - 1]!, curve.flowM3s[above]!];
  return finite(m3sToLph(from * (to / from) ** share));
}

function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}
