import { formatQuantity } from '../../base/quantity.ts';
import { calledAs } from '../network/notices.ts';
import type { Notice } from '../results.ts';
import { isAbove, twoFigures } from '../wording.ts';
import type { Check, Limit, Rule } from './check.ts';

/** Difference of two static readings on one service that is worth a word. */
const DIFFER: Limit = {
  key: 'supply-static-differs.most',
  label: "Difference of a valve's static pressure from the site's",
  kind: 'percent',
  usual: 5,
  least: 0,
  most: 100,
  source: 'common practice',
};

/** Readings that contradict one another: the lowest static above the static, a valve's own far from the site's. */
export const pressureReadings: Check = ({ plan, units, limit }) => {
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
    if (own === null || !(Math.abs(own - staticKpa) > (limit(DIFFER) / 100) * staticKpa)) continue;
    notices.push({
      rule: 'supply-static-differs',
      severity: 'info',
      message: `The static pressure at ${calledAs('supply', supply)} is ${formatQuantity('pressure', own, units)}, that of the site ${formatQuantity('pressure', staticKpa, units)}: the supply's own reading is used. Clear it to take the site's.`,
      refs: [{ table: 'supplies', id: supply.id }],
    });
  }
  return notices;
};

export const pressureReadingsRule: Rule = {
  number: null,
  title: 'Pressure readings that agree',
  says: ['low-static-above-static', 'supply-static-differs'],
  severity: 'warning',
  limits: [DIFFER],
  source: 'common practice',
  check: pressureReadings,
};
