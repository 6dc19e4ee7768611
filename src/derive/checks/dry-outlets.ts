import { outletsByRun } from './by-run.ts';
import type { Check } from './check.ts';

/** Outlets that lie above the reach of the pressure give nothing. */
export const dryOutlets: Check = ({ plan, results }) =>
  outletsByRun(plan, results.outlets, (outlet) => outlet.state === 'dry').map(({ name, outlets, refs }) => ({
    rule: 'outlets-dry',
    severity: 'error',
    message: `${outlets.length} outlet(s) of run ${name} get no water: they lie too high for the pressure, or too much is lost on the way. Raise the set pressure, use wider tubing, or feed the run nearer to the supply.`,
    refs,
  }));
