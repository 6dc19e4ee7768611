import { bareRuns } from './bare-runs.ts';
import type { Rule } from './check.ts';
import { deadEnds } from './dead-ends.ts';
import { tieInControl } from './spray-heads.ts';

/** A drip zone without one of them clogs, bursts or cannot be cleaned. */
export const dripZonePartsRule: Rule = {
  number: 9,
  title: 'Filter, regulator and flush end in each drip zone',
  says: ['no-control-set', 'tie-in-without-control', 'no-flush-end', 'dead-end'],
  severity: 'error',
  limits: [],
  source:
    'US EPA WaterSense, microirrigation sheet; Municipal Water District of Orange County and City of Sacramento, irrigation upgrades',
  check: (input) => [...bareRuns(input), ...tieInControl(input), ...deadEnds(input)],
};
