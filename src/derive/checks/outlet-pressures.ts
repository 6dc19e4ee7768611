import { formatQuantity } from '../../base/quantity.ts';
import type { Notice } from '../results.ts';
import { outletsByRun } from './by-run.ts';
import type { Check } from './check.ts';

const source = 'working range of the emitter as in the catalog (common practice)';

/** Every outlet must lie within the working range of its emitter. */
export const outletPressures: Check = ({ plan, results, units }) => {
  const pressure = (kpa: number): string => formatQuantity('pressure', kpa, units);
  const low = outletsByRun(plan, results.outlets, (outlet) => outlet.state === 'low').map(
    ({ name, outlets, refs }): Notice => {
      const worst = outlets.reduce((a, b) => (b.pressureKpa < a.pressureKpa ? b : a));
      return {
        rule: 'outlet-pressure-low',
        severity: 'warning',
        message: `${outlets.length} outlet(s) of run ${name} have too little pressure; the lowest has ${pressure(worst.pressureKpa)} and needs ${pressure(worst.minKpa)}. Raise the set pressure, shorten the run, or use wider tubing.`,
        refs,
        source,
      };
    },
  );
  const high = outletsByRun(plan, results.outlets, (outlet) => outlet.state === 'high').map(
    ({ name, outlets, refs }): Notice => {
      const worst = outlets.reduce((a, b) => (b.pressureKpa > a.pressureKpa ? b : a));
      return {
        rule: 'outlet-pressure-high',
        severity: 'warning',
        message: `${outlets.length} outlet(s) of run ${name} have too much pressure; the highest has ${pressure(worst.pressureKpa)} and may have ${pressure(worst.maxKpa)}. Lower the set pressure, or set a regulator of its own for low ground.`,
        refs,
        source,
      };
    },
  );
  return [...low, ...high];
};
