import type { Notice } from '../results.ts';
import { agree, counted, twoFigures } from '../wording.ts';
import { outletsByRun } from './by-run.ts';
import type { Check } from './check.ts';
import { wayOut } from './short-supply.ts';

const source = 'working range of the emitter as in the catalog (common practice)';
/** An outlet below its range that still gives this share of its rated flow is no failure yet (common practice). */
const STILL_GIVES = 0.9;

/** Every outlet must lie within the working range of its emitter. */
export const outletPressures: Check = (input) => {
  const { plan, results, units } = input;
  const low = outletsByRun(plan, results.outlets, (outlet) => outlet.state === 'low').map(
    ({ name, outlets, indices, refs }): Notice => {
      const worst = outlets.reduce((a, b) => (b.pressureKpa / b.minKpa < a.pressureKpa / a.minKpa ? b : a));
      const weakest = outlets.reduce((least, o) => Math.min(least, o.flowLph / o.ratedFlowLph), Infinity);
      const [has, needs] = twoFigures('pressure', worst.pressureKpa, worst.minKpa, units);
      const gives = `${Math.floor(100 * weakest)} % of ${agree(outlets.length, 'its', 'their')} rated flow`;
      return {
        rule: 'outlet-pressure-low',
        severity: weakest >= STILL_GIVES ? 'warning' : 'error',
        message: `${counted(outlets.length, 'outlet')} of run ${name} ${agree(outlets.length, 'has', 'have')} too little pressure; the lowest has ${has} and needs ${needs}, and the weakest gives ${gives}. ${wayOut(input, indices, 'Raise the set pressure, shorten the run, or use wider tubing.')}`,
        refs,
        source,
      };
    },
  );
  const high = outletsByRun(plan, results.outlets, (outlet) => outlet.state === 'high').map(
    ({ name, outlets, refs }): Notice => {
      const worst = outlets.reduce((a, b) => (b.pressureKpa > a.pressureKpa ? b : a));
      const [has, may] = twoFigures('pressure', worst.pressureKpa, worst.maxKpa, units);
      return {
        rule: 'outlet-pressure-high',
        severity: 'warning',
        message: `${counted(outlets.length, 'outlet')} of run ${name} ${agree(outlets.length, 'has', 'have')} too much pressure; the highest has ${has} and may have ${may}. Lower the set pressure, or set a regulator of its own for low ground.`,
        refs,
        source,
      };
    },
  );
  return [...low, ...high];
};
