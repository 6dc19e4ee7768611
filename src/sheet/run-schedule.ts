import { pathLength } from '../base/polyline.ts';
import type { UnitSystem } from '../base/quantity.ts';
import { FEEDER } from '../catalog/index.ts';
import { feederCutM } from '../derive/feeders.ts';
import type { Results } from '../derive/results.ts';
import { feedersOf, type Feeder } from '../drawing/tubing.ts';
import type { Plan, Run } from '../plan/records.ts';
import { lowest, runName, shower, type Show } from './show.ts';
import type { Row, Schedule } from './table.ts';
import { WORDS } from './words.ts';

const words = WORDS.run;

/** What of one kind of tubing is laid in all. */
interface Sum {
  readonly kind: string;
  readonly tubing: string;
  readonly runs: readonly Run[];
}

/**
 * One line for each run and one for its feeders, then the sums: a line for each tubing, since lengths of different
 * tubing are bought apart, and one of all outlets.
 */
export function runSchedule(plan: Plan, results: Results | null, units: UnitSystem): Schedule {
  const show = shower(units);
  const runs = plan.runs.toArray();
  const feeders = feedersOf(plan.emitters, plan.runs, results?.outlets ?? null);
  const rows = runs.flatMap((run): Row[] => {
    const result = results?.runs.get(run.id);
    const own = feeders.filter((feeder) => feeder.runId === run.id);
    const row: Row = {
      cells: [
        runName(plan, run),
        kindOf(run),
        show.tubing(run.tubing),
        show.length(lengthOf(run, results)),
        result ? String(result.outletCount) : WORDS.none,
        show.zoneFlow(result?.flowLph ?? NaN),
        show.pressure(result?.inletKpa ?? NaN),
        show.pressure(result?.worstKpa ?? NaN),
      ],
    };
    return own.length > 0
      ? [row, feederRow(words.feedersOf(own.length, runName(plan, run)), own, show)]
      : [row];
  });
  if (runs.length > 0) rows.push(...sumRows(plan, runs, feeders, results, show));
  return {
    title: WORDS.runs,
    ...(results && { note: WORDS.pressures }),
    columns: [
      { head: words.name, align: 'left' },
      { head: words.kind, align: 'left' },
      { head: words.tubing, align: 'left' },
      { head: words.length, align: 'right' },
      { head: words.emitters, align: 'right' },
      { head: words.flow, align: 'right' },
      { head: words.inlet, align: 'right' },
      { head: words.worst, align: 'right' },
    ],
    rows,
  };
}

function kindOf(run: Run): string {
  return run.inline ? words.dripline : words.blank;
}

function lengthOf(run: Run, results: Results | null): number {
  return results?.runs.get(run.id)?.lengthM ?? pathLength(run.path);
}

function feederRow(name: string, feeders: readonly Feeder[], show: Show, bold = false): Row {
  const lengthM = feeders.reduce((sum, feeder) => sum + feeder.lengthM, 0);
  return {
    bold,
    cells: [name, words.feeder, show.tubing(FEEDER.id), show.length(lengthM), '', '', '', ''],
  };
}

function sumRows(
  plan: Plan,
  runs: readonly Run[],
  feeders: readonly Feeder[],
  results: Results | null,
  show: Show,
): Row[] {
  const sums = new Map<string, Sum>();
  for (const run of runs) {
    const kind = kindOf(run);
    const key = `${kind} ${run.tubing}`;
    sums.set(key, { kind, tubing: run.tubing, runs: [...(sums.get(key)?.runs ?? []), run] });
  }
  const rows = [...sums.values()].map((sum): Row => {
    const found = sum.runs.flatMap((run) => results?.runs.get(run.id) ?? []);
    const total = (values: readonly number[]): number => values.reduce((all, value) => all + value, 0);
    const lengthM = total(sum.runs.map((run) => lengthOf(run, results)));
    return {
      bold: true,
      cells: [
        words.allOf(sum.kind),
        sum.kind,
        show.tubing(sum.tubing),
        show.length(lengthM),
        results ? String(total(found.map((run) => run.outletCount))) : WORDS.none,
        show.zoneFlow(results ? total(found.map((run) => run.flowLph).filter(Number.isFinite)) : NaN),
        '',
        show.pressure(lowest(found.map((run) => run.worstKpa).filter(Number.isFinite))),
      ],
    };
  });
  if (feeders.length > 0) {
    const laidM = feeders.reduce((sum, { lengthM }) => sum + lengthM, 0);
    const cut = show.length(feederCutM(laidM, plan.practice));
    rows.push(feederRow(words.allFeeders(feeders.length, cut), feeders, show, true));
  }
  rows.push({
    bold: true,
    cells: [
      words.allOutlets,
      '',
      '',
      '',
      results ? String(results.outletCount) : WORDS.none,
      show.zoneFlow(results?.totalFlowLph ?? NaN),
      '',
      show.pressure(results?.lowestKpa ?? NaN),
    ],
  });
  return rows;
}
