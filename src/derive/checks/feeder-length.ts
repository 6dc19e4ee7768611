import { formatQuantity } from '../../base/quantity.ts';
import { FOOT_M } from '../../base/units.ts';
import type { Notice } from '../results.ts';
import { agree, counted } from '../wording.ts';
import { outletsByRun } from './by-run.ts';
import type { Check } from './check.ts';

/** Longest feeder that a municipal programme allows, and the longest that this program does, metres. */
export const FEEDER_WARN_M = 6 * FOOT_M;
export const FEEDER_ERROR_M = 10 * FOOT_M;

/** Long feeders kink, are cut by shovels and cannot be found again. */
export const feederLength: Check = ({ plan, results, units }) =>
  outletsByRun(plan, results.outlets, (outlet) => outlet.feederM > FEEDER_WARN_M + 1e-9).map(
    ({ name, outlets, refs }): Notice => {
      const longest = outlets.reduce((most, outlet) => Math.max(most, outlet.feederM), 0);
      const tooLong = longest > FEEDER_ERROR_M + 1e-9;
      const limit = formatQuantity('length', tooLong ? FEEDER_ERROR_M : FEEDER_WARN_M, units);
      return {
        rule: 'feeder-long',
        severity: tooLong ? 'error' : 'warning',
        message: `${counted(outlets.length, 'feeder')} of run ${name} ${agree(outlets.length, 'is', 'are')} long, up to ${formatQuantity('length', longest, units)} against ${limit}: lead the run nearer to the plant.`,
        refs: refs.filter((ref) => ref.table === 'emitters'),
        source: tooLong
          ? 'common practice'
          : 'Arizona cities, public water-saving campaign, design and installation tips: 6 ft at most',
      };
    },
  );
