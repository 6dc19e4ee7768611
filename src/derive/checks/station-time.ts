import { called } from '../network/notices.ts';
import type { Supply, Watering } from '../../plan/records.ts';
import type { Notice, RecordChange } from '../results.ts';
import { agree, counted, listed } from '../wording.ts';
import type { CheckInput, Limit, Rule } from './check.ts';

const SOURCE =
  'what the controller can do, as surveyed; intervals up to 14 days: National Gardening Association, Southwestern Deserts report, 2009';

const INTERVAL: Limit = {
  key: 'station-time.interval',
  label: 'Days between watering days, at most',
  kind: 'count',
  usual: 14,
  least: 1,
  most: 60,
  source:
    'National Gardening Association, Southwestern Deserts report, 2009: intervals up to 14 days or more',
};
const DAY_MIN = 24 * 60;

interface Station {
  readonly supply: Supply;
  readonly watering: Watering;
  readonly dayMin: number;
}

/** What is set for the stations against what the controller can do and the hours that are allowed. */
export const stationTime: Rule = {
  number: 38,
  title: 'Minutes, starts and nights of the controller',
  says: ['station-run-long', 'station-starts', 'station-interval', 'night-window-short'],
  severity: 'warning',
  limits: [INTERVAL],
  source: SOURCE,
  check: (input) => {
    const stations = [...input.plan.supplies].flatMap((supply): Station[] => {
      const { watering } = supply;
      return watering ? [{ supply, watering, dayMin: watering.minutesPerStart * watering.startsPerDay }] : [];
    });
    if (stations.length === 0) return [];
    return [
      ...runs(input, stations),
      ...starts(input, stations),
      ...intervals(input, stations),
      ...night(input, stations),
    ];
  },
};

const names = (stations: readonly Station[]): string => listed(stations.map(({ supply }) => called(supply)));
const refs = (stations: readonly Station[]): Notice['refs'] =>
  stations.map(({ supply: { id } }) => ({ table: 'supplies', id }));

function runs({ plan: { controller } }: CheckInput, stations: readonly Station[]): Notice[] {
  const most = controller.longestRunMin;
  if (most === null) return [];
  const long = stations.filter(({ watering }) => watering.minutesPerStart > most);
  if (long.length === 0) return [];
  // The same minutes of a day in more starts, where the controller has them.
  const changes = long.flatMap(({ supply, watering, dayMin }): RecordChange[] => {
    const count = Math.ceil(dayMin / most);
    if (!(most > 0) || count > (controller.startsPerDay ?? Infinity)) return [];
    return [
      {
        kind: 'set',
        table: 'supplies',
        ids: [supply.id],
        fields: {
          watering: {
            ...watering,
            startsPerDay: count,
            minutesPerStart: Math.min(most, Math.ceil(dayMin / count)),
          },
        },
      },
    ];
  });
  const longest = Math.max(...long.map(({ watering }) => watering.minutesPerStart));
  return [
    {
      rule: 'station-run-long',
      severity: 'warning',
      message: `${names(long)} ${agree(long.length, 'is', 'are')} set to run for up to ${+longest.toFixed(1)} min, and the controller runs a station for ${most} min at most: split the run into more starts.`,
      refs: refs(long),
      source: SOURCE,
      ...(changes.length > 0 ? { fix: { label: 'Split into more starts', changes } } : {}),
    },
  ];
}

function starts({ plan: { controller } }: CheckInput, stations: readonly Station[]): Notice[] {
  const most = controller.startsPerDay;
  const many = most === null ? [] : stations.filter(({ watering }) => watering.startsPerDay > most);
  if (many.length === 0) return [];
  return [
    {
      rule: 'station-starts',
      severity: 'warning',
      message: `${names(many)} ${agree(many.length, 'wants', 'want')} up to ${Math.max(...many.map(({ watering }) => watering.startsPerDay))} starts a day, and the controller has ${most}: use fewer, longer starts, or a controller with more.`,
      refs: refs(many),
      source: SOURCE,
    },
  ];
}

function intervals({ plan: { controller }, limit }: CheckInput, stations: readonly Station[]): Notice[] {
  const can = controller.longestIntervalDays ?? Infinity;
  const usual = limit(INTERVAL);
  const most = Math.min(can, usual);
  const rare = stations.filter(({ watering }) => watering.intervalDays > most);
  if (rare.length === 0) return [];
  const why =
    can <= usual
      ? `the controller counts ${counted(can, 'day')} at most`
      : `more than ${counted(usual, 'day')} between watering days is unusual`;
  return [
    {
      rule: 'station-interval',
      severity: 'warning',
      message: `${names(rare)} ${agree(rare.length, 'is', 'are')} to be watered every ${Math.max(...rare.map(({ watering }) => watering.intervalDays))} days, and ${why}: water more often.`,
      refs: refs(rare),
      source: SOURCE,
    },
  ];
}

/** Stations run one after the other; all may fall on one night. */
function night({ plan: { controller } }: CheckInput, stations: readonly Station[]): Notice[] {
  const window = controller.nightWindow;
  const allMin = stations.reduce((sum, { dayMin }) => sum + dayMin, 0);
  // From a time to the same time is a whole day.
  const openMin = window
    ? (((window.toMin - window.fromMin) % DAY_MIN) + DAY_MIN) % DAY_MIN || DAY_MIN
    : DAY_MIN;
  if (allMin <= openMin) return [];
  return [
    {
      rule: 'night-window-short',
      severity: 'warning',
      message: `${counted(stations.length, 'station')} (${names(stations)}) ${agree(stations.length, 'runs', 'run')} for ${hours(allMin)} in all, one after the other, and ${window ? `the night from ${clock(window.fromMin)} to ${clock(window.toMin)} has ${hours(openMin)}` : 'a day has 24 h'}: spread them over several nights, or shorten the runs.`,
      refs: refs(stations),
      source: SOURCE,
    },
  ];
}

function hours(min: number): string {
  return `${+(min / 60).toFixed(1)} h`;
}

/** Minutes after midnight as on a clock of 24 hours. */
function clock(min: number): string {
  return `${String(Math.floor(min / 60) % 24).padStart(2, '0')}:${String(Math.round(min % 60)).padStart(2, '0')}`;
}
