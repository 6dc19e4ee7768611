import type { SupplyPart } from '../results.ts';
import type { Check, Rule } from './check.ts';

const ASKED: Readonly<Record<SupplyPart, string>> = {
  'measured curve': 'working points',
  meter: 'meter size',
  'service pipe': 'size and length of the service pipe',
  'backflow preventer': 'type and size of the backflow preventer',
  'zone valve': 'valve size',
};

/** What was not surveyed takes no pressure in the figures, though it does on the site. */
export const lossLeftOut: Check = ({ plan, planNetwork }) => {
  const concerned = planNetwork.parts.supplies.filter(({ leftOut }) => leftOut.length > 0);
  const parts = new Set(concerned.flatMap(({ leftOut }) => leftOut));
  if (parts.size === 0) return [];
  const isMeasured = plan.water.workingPoints.length > 0;
  const asked = (Object.keys(ASKED) as SupplyPart[]).filter((part) => parts.has(part));
  return [
    {
      rule: 'loss-left-out',
      severity: 'info',
      message: `Not known, so its loss is left out of the pressures: ${asked.map((part) => ASKED[part]).join('; ')}. ${isMeasured ? 'Survey it.' : 'Survey it, or measure a working point at the valve: that holds all losses before it.'}`,
      refs: concerned.map(({ id }) => ({ table: 'supplies', id }) as const),
    },
  ];
};

export const lossLeftOutRule: Rule = {
  number: null,
  title: 'All losses before the valve surveyed',
  says: ['loss-left-out'],
  severity: 'info',
  limits: [],
  source: 'common practice',
  check: lossLeftOut,
};
