import { formatQuantity } from '../../base/quantity.ts';
import { called } from '../network/notices.ts';
import type { Notice } from '../results.ts';
import { isAbove, twoFigures } from '../wording.ts';
import type { Check } from './check.ts';

/** Difference of two static readings on one service that is worth a word, as a share of the site's. */
const READINGS_DIFFER = 0.05;

/** Readings that contradict one another: the lowest static above the static, a valve's own far from the site's. */
export const pressureReadings: Check = ({ plan, units }) => {
  const { staticKpa, lowStaticKpa } = plan.water;
  if (staticKpa === null || !(staticKpa > 0)) return [];
  const notices: Notice[] = [];
  if (lowStaticKpa !== null && isAbove(lowStaticKpa, staticKpa)) {
    const [low, usual] = twoFigures('pressure', lowStaticKpa, staticKpa, units);
    notices.push({
      rule: 'low-static-above-static',
      severity: 'warning',
      message: `The lowest static pressure is typed as ${low}, above the static pressure of ${usual}: read the gauge again at the time of most use, and correct one of them in Survey under Water service.`,
      refs: [],
    });
  }
  for (const supply of plan.supplies) {
    const own = supply.pressureKpa;
    if (own === null || !(Math.abs(own - staticKpa) > READINGS_DIFFER * staticKpa)) continue;
    notices.push({
      rule: 'supply-static-differs',
      severity: 'info',
      message: `The static pressure at supply ${called(supply)} is ${formatQuantity('pressure', own, units)}, that of the site ${formatQuantity('pressure', staticKpa, units)}: the supply's own reading is used. Clear it to take the site's.`,
      refs: [{ table: 'supplies', id: supply.id }],
    });
  }
  return notices;
};
