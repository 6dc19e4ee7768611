import type { Ref } from '../../plan/records.ts';
import { called } from '../network/notices.ts';
import type { Check, Rule } from './check.ts';

/** Without a pressure at the supply nothing can be computed. */
export const supplyPressure: Check = ({ plan, planNetwork }) => {
  const unknown = planNetwork.parts.supplies.filter((supply) => !supply.hasPressure);
  if (unknown.length === 0) return [];
  const refs = unknown.map((supply): Ref => ({ table: 'supplies', id: supply.id }));
  const names = unknown.map(({ id }) => called(plan.supplies.get(id) ?? { id }));
  return [
    {
      rule: 'supply-pressure',
      severity: 'error',
      message: `No pressure is known at supply ${names.join(', ')}, so nothing downstream of it can be computed: measure the static pressure with a gauge and type it in Survey under Water service, or at the supply.`,
      refs,
    },
  ];
};

export const supplyPressureRule: Rule = {
  number: null,
  title: 'Pressure known at each supply',
  says: ['supply-pressure'],
  severity: 'error',
  limits: [],
  source: 'common practice: static pressure is read by gauge before anything is designed',
  check: supplyPressure,
};
