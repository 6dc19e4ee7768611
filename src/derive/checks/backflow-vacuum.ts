import { backflowType } from '../../catalog/index.ts';
import type { Plan, Ref } from '../../plan/records.ts';
import { called } from '../network/notices.ts';
import type { Notice } from '../results.ts';
import { counted, listed } from '../wording.ts';
import type { Check, Limit } from './check.ts';

const ordinance =
  'city backflow ordinance (Paris TX): an atmospheric vacuum breaker not under pressure for more than 12 h in 24, no shut-off after it';
const CAUTION = 'The local code and licensed practice decide.';

/** Hours of a day that it may be under pressure. */
export const HOURS_LIMIT: Limit = {
  key: 'backflow-hours.most',
  label: 'Hours of a day under pressure, atmospheric vacuum breaker',
  kind: 'count',
  usual: 12,
  least: 1,
  most: 24,
  source: ordinance,
};

/**
 * What an atmospheric vacuum breaker does not stand: pressure for more than its hours of a day (drip runs long), and
 * a shut-off after it. The hours are those set for each valve; before any are, those that the controller can give one
 * station. Valves count where they are drawn.
 */
export const backflowVacuum: Check = ({ plan, limit }) => {
  const { backflowType: written } = plan.water;
  const type = written === null ? undefined : backflowType(written);
  if (!type) return [];
  return [
    ...(type.mostHoursPerDay === null ? [] : hours(plan, type.name, limit(HOURS_LIMIT))),
    ...(type.valveAfter ? [] : valvesAfter(plan, type.name)),
  ];
};

function hours({ supplies, controller }: Plan, name: string, most: number): Notice[] {
  const set = [...supplies].flatMap(({ id, watering }) =>
    watering ? [{ id, hours: (watering.minutesPerStart * watering.startsPerDay) / 60 }] : [],
  );
  const notice = (severity: Notice['severity'], message: string, ids: readonly string[]): Notice[] => [
    {
      rule: 'backflow-hours',
      severity,
      message: `${message} ${CAUTION}`,
      refs: ids.map((id) => ({ table: 'supplies', id }) as const),
      source: ordinance,
    },
  ];
  if (set.length > 0) {
    const long = set.filter((one) => one.hours > most);
    if (long.length === 0) return [];
    const worst = long.reduce((a, b) => (b.hours > a.hours ? b : a));
    return notice(
      'error',
      `The watering set for ${listed(long.map(({ id }) => called(supplies.get(id)!)))} holds the ${name} under pressure for up to ${+worst.hours.toFixed(1)} h a day, and it may be for ${most} h in 24: set shorter runs, or have another device fitted.`,
      long.map(({ id }) => id),
    );
  }
  const { longestRunMin, startsPerDay } = controller;
  const can = longestRunMin === null ? null : (longestRunMin * (startsPerDay ?? 1)) / 60;
  if (can === null || can <= most) return [];
  return notice(
    'warning',
    `The controller can hold the ${name} under pressure for ${Math.min(24, +can.toFixed(1))} h a day, and it may be for ${most} h in 24: keep all runs of a day together under that, or have another device fitted.`,
    [],
  );
}

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
