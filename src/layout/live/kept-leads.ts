import { distance, type Point } from '../../base/point.ts';
import { JOINT_TOLERANCE_M } from '../../plan/joining.ts';
import type { Plan, Run } from '../../plan/records.ts';
import type { NewRun } from '../rows/index.ts';
import { fedFrom } from './fed.ts';
import { entryOf, sleeveOn, type Leads } from './lead.ts';
import { isOn } from './places.ts';
import { crossingsOf } from './round-rows.ts';
import { watersOf } from './water.ts';

/**
 * Leads that are there, for rows that were laid anew: `null` where they no longer begin at water, end on the rows, reach
 * every part of them or pass clear of them, so that others are to be laid.
 * @param plan the plan without the runs of the fill
 * @param feeding blank runs on which the leads may begin
 * @param from the control set from which water is to come; any where there is none of that id
 */
export function keptLeads(
  plan: Plan,
  laid: { readonly runs: readonly Pick<NewRun, 'path' | 'inline'>[]; readonly starts: readonly Point[] },
  leads: readonly Run[],
  feeding: readonly Run[],
  from: string | undefined,
  tubing: string,
): Leads | null {
  if (leads.length === 0) return null;
  const all = watersOf(plan);
  const asked = all.filter(({ table, id }) => table === 'controls' && id === from);
  const waters = asked.length ? asked : all;
  const fedOf = (at: readonly Point[]): readonly Run[] => fedFrom(at, [...feeding, ...leads]);
  const fed = fedOf(waters.map(({ at }) => at));
  if (!leads.every((lead) => fed.includes(lead))) return null;
  const ends = leads.flatMap((lead) => {
    const at = lead.path.at(-1);
    return at ? [{ lead, at }] : [];
  });
  const isOnRows = (at: Point): boolean => laid.runs.some(({ path }) => isOn(path, at));
  const isSound = ends.every(
    ({ lead, at }) => isOnRows(at) || leads.some((other) => other !== lead && isOn(other.path, at)),
  );
  const water = waters.find(({ at }) => fedOf([at]).includes(leads[0]!));
  if (!isSound || !water) return null;
  const isReached = (start: Point): boolean => {
    const entry = entryOf(laid.runs, start, water.at);
    const header = laid.runs.find(({ inline, path }) => inline === null && path[0] === start)?.path ?? [
      start,
    ];
    return (
      ends.some(({ at }) => distance(at, entry) <= JOINT_TOLERANCE_M) ||
      waters.some(({ at }) => isOn(header, at)) ||
      feeding.some((run) => fed.includes(run) && isOn(run.path, start))
    );
  };
  if (!laid.starts.every(isReached)) return null;
  const paths = leads.map(({ path }) => path);
  if (crossingsOf(paths, laid.runs) > 0) return null;
  return {
    runs: leads.map(({ name, path }): NewRun => ({ name, path, tubing, inline: null })),
    water,
    sleeveM: sleeveOn(plan, paths),
    tooFar: 0,
    crossings: crossingsOf(paths, [...plan.runs]),
  };
}
