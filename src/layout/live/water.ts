import { distance, type Point } from '../../base/point.ts';
import type { Plan } from '../../plan/records.ts';

/** Where a lead begins: a control set, or the head that is to be the tie-in while there is none. */
export interface Water {
  readonly table: 'controls' | 'heads';
  readonly id: string;
  /** For people. */
  readonly name: string;
  readonly at: Point;
}

/** Where drip's water may be had: the control sets; while there is none, the tie-ins. */
export function watersOf(plan: Pick<Plan, 'controls' | 'heads'>): readonly Water[] {
  if (plan.controls.size > 0) {
    return [...plan.controls].map(({ id, name, at }): Water => ({
      table: 'controls',
      id,
      name: name.trim() || id,
      at,
    }));
  }
  return [...plan.heads]
    .filter(({ fate }) => fate === 'tie-in')
    .map(({ id, at }): Water => ({ table: 'heads', id, name: id, at }));
}

/**
 * The control set nearest to any of some places; while there is none, the tie-in; `null` without either.
 * @param from the control set that is asked for; where the plan has none of that id, the nearest
 */
export function waterNear(
  plan: Pick<Plan, 'controls' | 'heads'>,
  places: readonly Point[],
  from?: string,
): Water | null {
  const all = watersOf(plan);
  const asked =
    from === undefined ? undefined : all.find(({ table, id }) => table === 'controls' && id === from);
  if (asked) return asked;
  let best: Water | null = null;
  let least = Infinity;
  for (const one of all) {
    for (const place of places) {
      const far = distance(one.at, place);
      if (far < least) [best, least] = [one, far];
    }
  }
  return best;
}
