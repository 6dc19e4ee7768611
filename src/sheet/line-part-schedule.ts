import type { UnitSystem } from '../base/quantity.ts';
import { alongRunM } from '../derive/along-run.ts';
import type { CheckValve, LinePartKind, Plan } from '../plan/records.ts';
import { runName, shower } from './show.ts';
import type { Row, Schedule } from './table.ts';
import { WORDS } from './words.ts';

/**
 * Parts set into the tubing: flush ends with the end they are at, check valves with their opening pressure, air reliefs
 * and drains; all but the first with their distance from the run's start, along the ground as tubing is laid.
 */
export function linePartSchedule(plan: Plan, units: UnitSystem): Schedule {
  const show = shower(units);
  const words = WORDS.linePart;
  const nameOf = (runId: string): string => {
    const run = plan.runs.get(runId);
    return run ? runName(plan, run) : WORDS.none;
  };
  const alongOf = (part: Pick<CheckValve, 'runId' | 'at'>): string => {
    const alongM = alongRunM(plan, part);
    return alongM === null ? WORDS.none : words.along(show.length(alongM));
  };
  const flushEnds = plan.flushEnds.toArray();
  const checkValves = plan.checkValves.toArray();
  const lineParts = plan.lineParts.toArray();
  const ofKind = (kind: LinePartKind) => lineParts.filter((part) => part.kind === kind);
  const [reliefs, drains] = [ofKind('air relief'), ofKind('drain')];
  const rows = [
    ...flushEnds.map(({ runId, end }): Row => ({
      cells: [words.flushEnd, nameOf(runId), words.ends[end], WORDS.none],
    })),
    ...checkValves.map((valve): Row => ({
      cells: [words.checkValve, nameOf(valve.runId), alongOf(valve), show.pressure(valve.openKpa)],
    })),
    ...[...reliefs, ...drains].map((part): Row => ({
      cells: [words.kinds[part.kind], nameOf(part.runId), alongOf(part), WORDS.none],
    })),
  ];
  if (rows.length > 1) {
    const all = words.counts(flushEnds.length, checkValves.length, reliefs.length, drains.length);
    rows.push({ bold: true, cells: [WORDS.totals, all, '', ''] });
  }
  return {
    title: WORDS.lineParts,
    columns: [
      { head: words.part, align: 'left' },
      { head: words.run, align: 'left' },
      { head: words.place, align: 'left' },
      { head: words.opening, align: 'right' },
    ],
    rows,
  };
}
