import { formatQuantity } from '../../base/quantity.ts';
import { FOOT_M } from '../../base/units.ts';
import type { Notice, OutletResult } from '../results.ts';
import { agree, counted } from '../wording.ts';
import { outletsByRun } from './by-run.ts';
import type { Check, Limit, Rule } from './check.ts';

/** Longest feeder that a municipal programme allows, and the longest that this program does, metres. */
export const FEEDER_WARN_M = 6 * FOOT_M;
export const FEEDER_ERROR_M = 10 * FOOT_M;

const programme = 'Arizona cities, public water-saving campaign, design and installation tips: 6 ft at most';
const limits = { kind: 'length', least: 0.1, most: 30 } as const;
const WARN: Limit = {
  ...limits,
  key: 'feeder-long.warning',
  label: 'Feeder, warning from',
  usual: FEEDER_WARN_M,
  source: programme,
};
const ERROR: Limit = {
  ...limits,
  key: 'feeder-long.error',
  label: 'Feeder, error from',
  usual: FEEDER_ERROR_M,
  source: 'common practice',
};

/** Long feeders kink, are cut by shovels and cannot be found again. */
export const feederLength: Check = ({ plan, results, units, limit: limitOf }) => {
  const errorM = limitOf(ERROR);
  const warnM = Math.min(limitOf(WARN), errorM);
  // Where feeders hang one on another, all that the water passes counts.
  const wayM = new Map<string, number>();
  for (const { owner, feederM, fromEmitterId } of results.outlets) {
    if (owner.table !== 'emitters') continue;
    wayM.set(owner.id, feederM + (fromEmitterId === undefined ? 0 : (wayM.get(fromEmitterId) ?? 0)));
  }
  const wayOf = ({ owner }: OutletResult): number =>
    owner.table === 'emitters' ? (wayM.get(owner.id) ?? 0) : 0;
  return outletsByRun(plan, results.outlets, (outlet) => wayOf(outlet) > warnM + 1e-9).map(
    ({ name, outlets, refs }): Notice => {
      const longest = outlets.reduce((most, outlet) => Math.max(most, wayOf(outlet)), 0);
      const tooLong = longest > errorM + 1e-9;
      const limit = formatQuantity('length', tooLong ? errorM : warnM, units);
      return {
        rule: 'feeder-long',
        severity: tooLong ? 'error' : 'warning',
        message: `${counted(outlets.length, 'feeder')} of run ${name} ${agree(outlets.length, 'is', 'are')} long, up to ${formatQuantity('length', longest, units)} against ${limit}: lead the run nearer to the plant.`,
        refs: refs.filter((ref) => ref.table === 'emitters'),
        source: (tooLong ? ERROR : WARN).source,
      };
    },
  );
};

export const feederLengthRule: Rule = {
  number: 16,
  title: 'Length of feeders',
  says: ['feeder-long'],
  severity: 'error',
  limits: [WARN, ERROR],
  source: programme,
  check: feederLength,
};
