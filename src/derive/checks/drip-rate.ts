import type { Plan } from '../../plan/records.ts';
import type { Notice, PlanNetwork } from '../results.ts';
import { bedSlope, intakeOf, pondingOf } from '../soil/index.ts';
import { agree, isAbove, twoFigures } from '../wording.ts';
import type { CheckInput, Limit, Rule } from './check.ts';
import { byBed, median, rowsOf, type RowPlace } from './drip-rows.ts';
import { supplyOutlets } from './drip-groups.ts';
import { bedNames } from './lower-third-spacing.ts';

const SOURCE =
  'rate: flow over row by emitter spacing, 231 x gph / in2 in in/h (geometry); intake by soil and slope: the table or measurement named in the soil card; time to ponding after Green and Ampt';

const SHARE: Limit = {
  key: 'drip-rate.share',
  label: 'Application rate over intake of the soil',
  kind: 'percent',
  usual: 100,
  least: 10,
  most: 1000,
  source: SOURCE,
};

/** Figures of intake are no finer than this, so that a rate has to be over them by more to count; share. */
const SLACK = 0.05;
/** No run lasts as long as a day: water that stands only later does not stand, minutes. */
const NEVER_MIN = 24 * 60;

interface WetBed {
  readonly id: string;
  readonly rateMmPerH: number;
  readonly intakeMmPerH: number;
  /** Until water stands; null: never by the published means. */
  readonly pondsMin: number | null;
  /** Minutes of the longest run among the valves that water it; null while none is set. */
  readonly runMin: number | null;
  readonly supplyIds: readonly string[];
}

/**
 * Dripline that gives more than the soil takes in, held against the time until water stands. Point emitters wet a part
 * of the bed only and are left out: no published figure says how much.
 */
export const dripRate: Rule = {
  number: 28,
  title: 'Application rate and intake of the soil',
  says: ['drip-rate-over-intake'],
  severity: 'error',
  limits: [SHARE],
  source: SOURCE,
  check: (input) => {
    const beds = wetBeds(input);
    const tooLong = beds.filter(
      ({ runMin, pondsMin }) => runMin !== null && pondsMin !== null && runMin > pondsMin,
    );
    const noTime = beds.filter(({ runMin, pondsMin }) => runMin === null || pondsMin === null);
    return [...told(input, tooLong, 'error'), ...told(input, noTime, 'info')];
  },
};

function told({ plan, units }: CheckInput, beds: readonly WetBed[], severity: 'error' | 'info'): Notice[] {
  if (beds.length === 0) return [];
  const worst = beds.reduce((a, b) =>
    b.rateMmPerH / b.intakeMmPerH > a.rateMmPerH / a.intakeMmPerH ? b : a,
  );
  const [gives, takes] = twoFigures('rate', worst.rateMmPerH, worst.intakeMmPerH, units);
  const { pondsMin, runMin } = worst;
  const times =
    pondsMin === null
      ? ' By the texture alone no water would stand, by the intake on this slope it does: keep runs short, in cycles.'
      : runMin === null
        ? ` Water stands after about ${Math.max(1, Math.round(pondsMin))} min: set the minutes of the valve so that each start stays under that, with soaking in between.`
        : ` Water stands after about ${Math.max(1, Math.round(pondsMin))} min of the ${minutes(runMin)} that are set: water in ${cyclesFor(runMin, pondsMin)}, with soaking in between, or use emitters of less flow.`;
  return [
    {
      rule: 'drip-rate-over-intake',
      severity,
      message: `Dripline in ${agree(beds.length, 'bed', 'beds')} ${bedNames(plan, beds)} gives up to ${gives} and the soil takes in ${takes}.${times}`,
      refs: [
        ...beds.map(({ id }) => ({ table: 'areas', id }) as const),
        ...[...new Set(beds.flatMap(({ supplyIds }) => supplyIds))].map(
          (id) => ({ table: 'supplies', id }) as const,
        ),
      ],
      source: SOURCE,
    },
  ];
}

function minutes(value: number): string {
  return `${+value.toFixed(0)} min`;
}

/** As many cycles as keep each under the time to ponding (cycles = ceil(total / longest), minutes = total / cycles). */
function cyclesFor(runMin: number, pondsMin: number): string {
  if (!(pondsMin >= 1)) return 'many short cycles';
  const cycles = Math.ceil(runMin / pondsMin);
  return `${cycles} cycles of ${Math.max(1, Math.floor(runMin / cycles))} min`;
}

function wetBeds(input: CheckInput): WetBed[] {
  const { plan, planNetwork, limit } = input;
  const suppliesOf = suppliesByRun(planNetwork);
  return [...byBed(rowsOf(plan))].flatMap(([id, places]): WetBed[] => {
    const rate = rateOf(places);
    const intake = rate === null ? null : intakeOf(plan.soil, bedSlope(plan, id)?.meanPercent ?? null);
    if (rate === null || !intake) return [];
    if (!isAbove(rate, (intake.mmPerH * (1 + SLACK) * limit(SHARE)) / 100)) return [];
    const ponding = pondingOf(plan.soil, rate);
    const minutesTo = (ponding?.withMeasuredIntake ?? ponding)?.minutes ?? null;
    const supplyIds = [...new Set(places.flatMap(({ run }) => suppliesOf.get(run.id) ?? []))];
    return [
      {
        id,
        rateMmPerH: rate,
        intakeMmPerH: intake.mmPerH,
        pondsMin: minutesTo !== null && minutesTo < NEVER_MIN ? minutesTo : null,
        runMin: longestRun(plan, supplyIds),
        supplyIds,
      },
    ];
  });
}

function longestRun(plan: Plan, supplyIds: readonly string[]): number | null {
  const set = supplyIds.flatMap((id) => plan.supplies.get(id)?.watering?.minutesPerStart ?? []);
  return set.length > 0 ? Math.max(...set) : null;
}

/** Rate of rows at their middle distance, mm/h: flow of a metre of row over the distance of the rows. */
export function rateOf(places: readonly RowPlace[]): number | null {
  const rates = places.flatMap(({ run, gaps }) => {
    const { ratedFlowLph, spacingM } = run.inline!;
    return spacingM > 0 ? gaps.map((gap) => ratedFlowLph / (spacingM * gap.spacingM)) : [];
  });
  return rates.length > 0 ? median(rates) : null;
}

function suppliesByRun(planNetwork: PlanNetwork): ReadonlyMap<string, readonly string[]> {
  const found = new Map<string, Set<string>>();
  for (const [supplyId, outlets] of supplyOutlets(planNetwork)) {
    for (const i of outlets) {
      const { runId } = planNetwork.outlets[i]!;
      const set = found.get(runId);
      if (set) set.add(supplyId);
      else found.set(runId, new Set([supplyId]));
    }
  }
  return new Map([...found].map(([runId, ids]) => [runId, [...ids]]));
}
