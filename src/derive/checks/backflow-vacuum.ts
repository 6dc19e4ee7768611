import { backflowType } from '../../catalog/index.ts';
import type { Ref } from '../../plan/records.ts';
import type { Notice } from '../results.ts';
import { counted } from '../wording.ts';
import type { Check } from './check.ts';

const ordinance =
  'city backflow ordinance (Paris TX): an atmospheric vacuum breaker not under pressure for more than 12 h in 24, no shut-off after it';
const CAUTION = 'The local code and licensed practice decide.';

/**
 * What an atmospheric vacuum breaker does not stand: pressure for more than its hours of a day (drip runs long), and
 * a shut-off after it. Hours are those that the controller can give one station; valves count where they are drawn.
 */
export const backflowVacuum: Check = ({ plan }) => {
  const { backflowType: written } = plan.water;
  const type = written === null ? undefined : backflowType(written);
  if (!type) return [];
  const notices: Notice[] = [];
  const { longestRunMin, startsPerDay } = plan.controller;
  const hours = longestRunMin === null ? null : (longestRunMin * (startsPerDay ?? 1)) / 60;
  if (type.mostHoursPerDay !== null && hours !== null && hours > type.mostHoursPerDay) {
    notices.push({
      rule: 'backflow-hours',
      severity: 'warning',
      message: `The controller can hold the ${type.name} under pressure for ${Math.min(24, +hours.toFixed(1))} h a day, and it may be for ${type.mostHoursPerDay} h in 24: keep all runs of a day together under that, or have another device fitted. ${CAUTION}`,
      refs: [],
      source: ordinance,
    });
  }
  if (!type.valveAfter) notices.push(...valvesAfter(plan, type.name));
  return notices;
};

function valvesAfter(
  { supplies, checkValves }: Parameters<Check>[0]['plan'],
  name: string,
): readonly Notice[] {
  const notice = (severity: Notice['severity'], message: string, refs: readonly Ref[]): Notice => ({
    rule: 'backflow-valve-after',
    severity,
    message: `${message} ${CAUTION}`,
    refs,
    source: ordinance,
  });
  const notices: Notice[] = [];
  if (checkValves.size > 0) {
    notices.push(
      notice(
        'error',
        `${counted(checkValves.size, 'check valve')} after the ${name}: no shut-off may stand after it. Take them out, or have another device fitted.`,
        [...checkValves].map(({ id }) => ({ table: 'checkValves', id }) as const),
      ),
    );
  }
  if (supplies.size > 1) {
    notices.push(
      notice(
        'warning',
        `${counted(supplies.size, 'zone valve')} and one ${name}: it may only stand after a valve, so each zone needs its own, or the service another device.`,
        [...supplies].map(({ id }) => ({ table: 'supplies', id }) as const),
      ),
    );
  }
  return notices;
}
