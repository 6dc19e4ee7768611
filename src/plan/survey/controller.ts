import type { Controller } from '../records.ts';
import { Fields, notMeasured, type SurveyContext } from './fields.ts';

const NOT_COUNTED = 'It counts as not known: type it again.';

/** What the irrigation controller can do: minutes, starts, days and stations, each bare or as text. */
export function readController(value: unknown, where: string, context: SurveyContext): Controller {
  const fields =
    typeof value === 'string' && !notMeasured(value)
      ? new Fields({ note: value }, where, context)
      : (context.fields(value ?? {}, where) ?? new Fields({}, where, context));
  const number = (most: number, ...names: readonly string[]): number | null => {
    const found = fields.number(...names);
    if (found === null || (found >= 0 && found <= most)) return found;
    fields.fault(names[0]!, found, `must be from 0 to ${most}`, NOT_COUNTED);
    return null;
  };
  const whole = (most: number, ...names: readonly string[]): number | null => {
    const found = number(most, ...names);
    if (found === null || Number.isInteger(found)) return found;
    fields.fault(names[0]!, found, 'must be a whole number', NOT_COUNTED);
    return null;
  };
  const minutes = number(
    10_000,
    'longestRunMin',
    'longestRunMinutes',
    'maxMinutes',
    'maxRunMin',
    'longestRun',
  );
  const hours = number(166, 'longestRunHours', 'longestRunH', 'maxHours');
  const controller: Controller = {
    longestRunMin: minutes ?? (hours === null ? null : hours * 60),
    startsPerDay: whole(1000, 'startsPerDay', 'starts', 'startTimes'),
    longestIntervalDays: number(
      366,
      'longestIntervalDays',
      'longestInterval',
      'intervalDays',
      'maxIntervalDays',
    ),
    freeStations: whole(1000, 'freeStations', 'stationsFree', 'free', 'spareStations'),
    nightWindow: null,
  };
  fields.close();
  return controller;
}
