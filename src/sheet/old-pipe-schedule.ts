import type { UnitSystem } from '../base/quantity.ts';
import { decidedOf, jointNames } from '../derive/existing/decided.ts';
import { tieInsOf, type DeadLeg } from '../derive/existing/lateral/index.ts';
import type { Plan } from '../plan/records.ts';
import { shower } from './show.ts';
import type { Row, Schedule } from './table.ts';
import { WORDS } from './words.ts';

/** A dead leg of a decided tie-in, with the joint at which it hangs as the drawing names it. */
interface HungLeg {
  readonly leg: DeadLeg;
  readonly joint: string;
}

function decidedLegs(plan: Plan): HungLeg[] {
  // Without any fate on the plan nothing is decided, and there is no need to rank.
  const decided =
    [...plan.heads].some(({ fate }) => fate === 'tie-in') ||
    [...plan.laterals].some(({ fate }) => fate === 'live');
  if (!decided) return [];
  return tieInsOf(plan).flatMap((zone) => {
    const named = jointNames(plan, zone.zone);
    return (decidedOf(plan, zone).tieIn?.legs ?? []).map((leg) => ({ leg, joint: named(leg) }));
  });
}

/** Where the pipe of each head is cut, by the tie-ins that are decided; heads that keep their pipe are not in it. */
export function cutsOf(plan: Plan): ReadonlyMap<string, string> {
  const cut = decidedLegs(plan).filter(({ leg }) => leg.action === 'cut at the tee');
  return new Map(cut.flatMap(({ leg, joint }) => leg.heads.map((id) => [id, joint] as const)));
}

/** One line for each dead leg of the old pipe: where it hangs, its heads, its length, what it holds and what is done. */
export function oldPipeSchedule(plan: Plan, units: UnitSystem): Schedule {
  const show = shower(units);
  const words = WORDS.oldPipe;
  return {
    title: WORDS.oldPipes,
    columns: [
      { head: words.at, align: 'left' },
      { head: words.heads, align: 'left' },
      { head: words.length, align: 'right' },
      { head: words.holds, align: 'right' },
      { head: words.todo, align: 'left' },
    ],
    rows: decidedLegs(plan).map(({ leg, joint }): Row => ({
      cells: [
        joint,
        leg.heads.join(', '),
        show.length(leg.lengthM),
        show.volume(leg.volumeL ?? NaN),
        words.actions[leg.action],
      ],
    })),
  };
}
