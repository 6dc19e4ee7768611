import { lateralsOf, type DeadLeg, type TieIn, type ZoneTieIns } from './lateral/index.ts';
import { change, together, type Edit } from '../../plan/edits/index.ts';
import type { Head, LateralPipe, Plan } from '../../plan/records.ts';

/** What was decided for a zone, read back from the fates of its heads and pipes. */
export interface Decided {
  /** The candidate that the plan holds; `null` where the fates are those of none. */
  readonly tieIn: TieIn | null;
  /** Whether anything is decided at all. */
  readonly any: boolean;
}

/** Heads of a zone: those that its candidates speak of. */
export function headsOf(plan: Plan, { candidates }: ZoneTieIns): Head[] {
  const ids = new Set(candidates.flatMap(({ fates }) => Object.keys(fates)));
  return [...plan.heads].filter(({ id }) => ids.has(id));
}

/** Pipes of a zone, also those that a cut has made out of one that its candidates speak of. */
export function pipesOf(plan: Plan, zoneTieIns: ZoneTieIns): LateralPipe[] {
  const ids = new Set(zoneTieIns.candidates.flatMap(({ pieceFates }) => Object.keys(pieceFates)));
  return [...plan.laterals].filter(({ id }) => ids.has(id));
}

/**
 * The candidate that a plan has decided for: the one whose tie-in heads and fates of pipes are those of the plan. Where
 * a person has changed a cap by hand since, the one with the same tie-in heads.
 */
export function decidedOf(plan: Plan, zoneTieIns: ZoneTieIns): Decided {
  const heads = headsOf(plan, zoneTieIns);
  const pipes = pipesOf(plan, zoneTieIns);
  const any =
    heads.some(({ fate }) => fate !== 'undecided' && fate !== 'keep') ||
    pipes.some(({ fate }) => fate !== 'undecided');
  if (!any) return { tieIn: null, any };
  const chosen = heads.filter(({ fate }) => fate === 'tie-in').map(({ id }) => id);
  const alike = zoneTieIns.candidates.filter(({ fates }) => {
    const wanted = Object.keys(fates).filter((id) => fates[id] === 'tie-in');
    return wanted.length === chosen.length && wanted.every((id) => chosen.includes(id));
  });
  const exact = alike.find(({ pieceFates }) => pipes.every(({ id, fate }) => pieceFates[id] === fate));
  return { tieIn: exact ?? (chosen.length > 0 ? (alike[0] ?? null) : null), any };
}

/** Takes back what was decided for a zone: heads and pipes are undecided again, kept heads stay kept. */
export function takeBack(label: string, plan: Plan, zoneTieIns: ZoneTieIns): Edit {
  const heads = headsOf(plan, zoneTieIns).filter(({ fate }) => fate !== 'keep');
  const pipes = pipesOf(plan, zoneTieIns);
  return together(label, [
    change(
      label,
      'heads',
      heads.map(({ id }) => id),
      { fate: 'undecided' },
    ),
    change(
      label,
      'laterals',
      pipes.map(({ id }) => id),
      { fate: 'undecided' },
    ),
  ]);
}

/** Names the joints at which a dead leg hangs, with the head that stands there: `H1 (T1)`, or `N3` where none does. */
export function jointNames(plan: Plan, zone: string | null): (leg: DeadLeg) => string {
  const joints = lateralsOf(plan)
    .filter((lateral) => lateral.zone === zone)
    .flatMap((lateral) => lateral.joints);
  const names = new Map(
    joints.map(({ id, name }) => [name, id === name ? name : `${id} (${name})`] as const),
  );
  return (leg) => leg.joints.map((name) => names.get(name) ?? name).join(', ');
}
