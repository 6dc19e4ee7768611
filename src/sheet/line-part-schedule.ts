import type { UnitSystem } from '../base/quantity.ts';
import type { Plan } from '../plan/records.ts';
import { runName, shower } from './show.ts';
import type { Row, Schedule } from './table.ts';
import { WORDS } from './words.ts';

/** Parts set into the tubing, run by run: flush ends with the end they are at, check valves with their opening pressure. */
export function linePartSchedule(plan: Plan, units: UnitSystem): Schedule {
  const show = shower(units);
  const words = WORDS.linePart;
  const nameOf = (runId: string): string => {
    const run = plan.runs.get(runId);
    return run ? runName(plan, run) : WORDS.none;
  };
  const flushEnds = plan.flushEnds.toArray();
  const checkValves = plan.checkValves.toArray();
  const rows = [
    ...flushEnds.map(({ runId, end }): Row => ({
      cells: [words.flushEnd, nameOf(runId), words.ends[end], WORDS.none],
    })),
    ...checkValves.map(({ runId, openKpa }): Row => ({
      cells: [words.checkValve, nameOf(runId), WORDS.none, show.pressure(openKpa)],
    })),
  ];
  if (rows.length > 1) {
    rows.push({
      bold: true,
      cells: [WORDS.totals, words.counts(flushEnds.length, checkValves.length), '', ''],
    });
  }
  return {
    title: WORDS.lineParts,
    columns: [
      { head: words.part, align: 'left' },
      { head: words.run, align: 'left' },
      { head: words.end, align: 'left' },
      { head: words.opening, align: 'right' },
    ],
    rows,
  };
}
