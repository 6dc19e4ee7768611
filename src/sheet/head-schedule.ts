import type { UnitSystem } from '../base/quantity.ts';
import type { Head, HeadFate, Plan } from '../plan/records.ts';
import { cutsOf } from './old-pipe-schedule.ts';
import { shower } from './show.ts';
import type { Row, Schedule } from './table.ts';
import { WORDS } from './words.ts';

const FATES: readonly HeadFate[] = ['tie-in', 'cap', 'cut off', 'keep', 'undecided'];

/** One line for each existing head: its tag on the drawing, what happens to it, and its flow as surveyed. */
export function headSchedule(plan: Plan, units: UnitSystem): Schedule {
  const show = shower(units);
  const words = WORDS.head;
  const heads = plan.heads.toArray();
  const cuts = cutsOf(plan);
  const noteOf = ({ blocked, note }: Head): string =>
    [blocked ? words.blocked : '', note].filter(Boolean).join('; ');
  const notes = heads.some((head) => noteOf(head) !== '');
  const rows = heads.map((head): Row => ({
    cells: [
      head.id,
      head.fate === 'cut off' && cuts.has(head.id) ? words.cutAt(cuts.get(head.id)!) : words.todo[head.fate],
      show.zoneFlow(head.flowLph ?? NaN),
      words.waters[head.waters],
      ...(notes ? [noteOf(head)] : []),
    ],
  }));
  if (heads.length > 1) {
    const counts = FATES.flatMap((fate) => {
      const count = heads.filter((head) => head.fate === fate).length;
      return count > 0 ? [WORDS.outlet.count(count, words.fates[fate])] : [];
    });
    // A sum with a head missing would be read as the zone's flow.
    const known = heads.every((head) => head.flowLph !== null);
    const flowLph = known ? heads.reduce((sum, head) => sum + head.flowLph!, 0) : NaN;
    rows.push({
      bold: true,
      cells: [WORDS.totals, counts.join(', '), show.zoneFlow(flowLph), '', ...(notes ? [''] : [])],
    });
  }
  return {
    title: WORDS.heads,
    columns: [
      { head: words.tag, align: 'left' },
      { head: words.fate, align: 'left' },
      { head: words.flow, align: 'right' },
      { head: words.wets, align: 'left' },
      ...(notes ? [{ head: words.note, align: 'left' } as const] : []),
    ],
    rows,
  };
}
