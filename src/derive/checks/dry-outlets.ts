import { agree, counted } from '../wording.ts';
import { byControl, outletsByRun } from './by-run.ts';
import type { Check } from './check.ts';
import { wayOut } from './short-supply.ts';

/** Outlets that lie above the reach of the pressure give nothing. */
export const dryOutlets: Check = (input) =>
  byControl(
    outletsByRun(input.plan, input.results.outlets, (outlet) => outlet.state === 'dry'),
    input.planNetwork,
  ).map(({ runs, outlets, indices, refs }) => ({
    rule: 'outlets-dry',
    severity: 'error',
    message: `${counted(outlets.length, 'outlet')} of ${runs} ${agree(outlets.length, 'gets', 'get')} no water: ${agree(outlets.length, 'it lies', 'they lie')} too high for the pressure, or too much is lost on the way. ${wayOut(input, indices, 'Raise the set pressure, use wider tubing, or feed the runs nearer to the supply.')}`,
    refs,
  }));
