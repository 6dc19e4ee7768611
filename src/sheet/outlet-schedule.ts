import type { UnitSystem } from '../base/quantity.ts';
import { feederCutM } from '../derive/feeders.ts';
import type { OutletResult, OutletState, Results } from '../derive/results.ts';
import { feedersOf } from '../drawing/tubing.ts';
import type { Plan, Run } from '../plan/records.ts';
import { plantNames, runName, shower, type Show } from './show.ts';
import type { Row, Schedule } from './table.ts';
import { WORDS } from './words.ts';

const STATES: readonly OutletState[] = ['good', 'low', 'high', 'dry', 'apart'];

/** State of a group: the state of all, or the number in each state that is not in range. */
function statesOf(outlets: readonly OutletResult[]): string {
  const words = WORDS.outlet;
  const counts = STATES.map((state) => outlets.filter((outlet) => outlet.state === state).length);
  const single = counts.findIndex((count) => count === outlets.length);
  if (single >= 0) return words.states[STATES[single]!];
  return STATES.flatMap((state, i) =>
    state !== 'good' && counts[i]! > 0 ? [words.count(counts[i]!, words.states[state])] : [],
  ).join(', ');
}

/** The built-in emitters of a run as one line. */
function inlineRow(plan: Plan, run: Run, outlets: readonly OutletResult[], show: Show): Row {
  const words = WORDS.outlet;
  return {
    cells: [
      runName(plan, run),
      words.inline(outlets.length, show.spacing(run.inline?.spacingM ?? NaN)),
      WORDS.none,
      WORDS.none,
      show.outletFlow(outlets[0]?.ratedFlowLph ?? NaN),
      show.span(
        'pressure',
        outlets.map((outlet) => outlet.pressureKpa),
      ),
      show.span(
        'outletFlow',
        outlets.map((outlet) => outlet.flowLph),
      ),
      statesOf(outlets),
    ],
  };
}

/** A feeder as it is laid and as it is cut; a dash without one. */
function feederCell(plan: Plan, feederM: number, show: Show): string {
  if (!(feederM > 0)) return WORDS.none;
  return WORDS.outlet.laidAndCut(show.length(feederM), show.length(feederCutM(feederM, plan.practice)));
}

/** One line for the built-in emitters of each run, one for each point emitter, run by run. */
export function outletSchedule(plan: Plan, results: Results | null, units: UnitSystem): Schedule {
  const show = shower(units);
  const words = WORDS.outlet;
  const byRun = new Map<string, OutletResult[]>();
  for (const outlet of results?.outlets ?? []) {
    const list = byRun.get(outlet.runId);
    if (list) list.push(outlet);
    else byRun.set(outlet.runId, [outlet]);
  }
  const rows: Row[] = [];
  for (const run of plan.runs) {
    const outlets = byRun.get(run.id) ?? [];
    const inline = outlets.filter((outlet) => outlet.owner.table === 'runs');
    if (inline.length > 0) rows.push(inlineRow(plan, run, inline, show));
    for (const outlet of outlets.filter((each) => each.owner.table === 'emitters')) {
      rows.push({
        cells: [
          runName(plan, run),
          words.point(outlet.number),
          plantNames(plan, outlet),
          feederCell(plan, outlet.feederM, show),
          show.outletFlow(outlet.ratedFlowLph),
          show.pressure(outlet.pressureKpa),
          show.outletFlow(outlet.flowLph),
          words.states[outlet.state],
        ],
      });
    }
  }
  if (!results) rows.push(...plainRows(plan, show));
  return {
    title: WORDS.outlets,
    ...(results && { note: WORDS.pressures }),
    columns: [
      { head: words.run, align: 'left' },
      { head: words.what, align: 'left' },
      { head: words.plant, align: 'left' },
      { head: words.feeder, align: 'right' },
      { head: words.rated, align: 'right' },
      { head: words.pressure, align: 'right' },
      { head: words.flow, align: 'right' },
      { head: words.state, align: 'left' },
    ],
    rows,
  };
}

/** Outlets as chosen, while nothing is computed. */
function plainRows(plan: Plan, show: Show): Row[] {
  const words = WORDS.outlet;
  const rows: Row[] = [];
  const feeders = new Map(
    feedersOf(plan.emitters, plan.runs, null).map(({ emitterId, lengthM }) => [emitterId, lengthM] as const),
  );
  for (const run of plan.runs) {
    if (run.inline) {
      const spacing = show.spacing(run.inline.spacingM);
      const rated = show.outletFlow(run.inline.ratedFlowLph);
      rows.push({
        cells: [runName(plan, run), words.spaced(spacing), WORDS.none, WORDS.none, rated, ...UNKNOWN],
      });
    }
    let number = 0;
    for (const emitter of plan.emitters) {
      if (emitter.runId !== run.id) continue;
      number++;
      const rated = show.outletFlow(emitter.ratedFlowLph);
      rows.push({
        cells: [
          runName(plan, run),
          words.point(number),
          plantNames(plan, emitter),
          feederCell(plan, feeders.get(emitter.id) ?? 0, show),
          rated,
          ...UNKNOWN,
        ],
      });
    }
  }
  return rows;
}

const UNKNOWN: readonly string[] = [WORDS.none, WORDS.none, WORDS.none];
