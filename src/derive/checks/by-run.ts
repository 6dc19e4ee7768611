import type { Plan, Ref } from '../../plan/records.ts';
import { called } from '../network/notices.ts';
import type { OutletResult, PlanNetwork } from '../results.ts';
import { agree, listed } from '../wording.ts';
import { fedBy } from './fed-by.ts';

/** Outlets gathered by their run, with the run's name for a sentence. */
export interface RunOutlets {
  readonly name: string;
  readonly outlets: readonly OutletResult[];
  /** Their places in the list of all outlets. */
  readonly indices: readonly number[];
  readonly refs: readonly Ref[];
}

/** The outlets that `picks` takes, by run, in the order in which runs first appear. */
export function outletsByRun(
  plan: Plan,
  outlets: readonly OutletResult[],
  picks: (outlet: OutletResult) => boolean,
): RunOutlets[] {
  const byRun = new Map<string, number[]>();
  outlets.forEach((outlet, i) => {
    if (!picks(outlet)) return;
    const list = byRun.get(outlet.runId);
    if (list) list.push(i);
    else byRun.set(outlet.runId, [i]);
  });
  return [...byRun].map(([runId, indices]) => {
    const own = indices.map((i) => outlets[i]!);
    return {
      name: called(plan.runs.get(runId) ?? { id: runId }),
      outlets: own,
      indices,
      refs: [
        { table: 'runs', id: runId } as const,
        ...own.filter((outlet) => outlet.owner.table === 'emitters').map((outlet) => outlet.owner),
      ],
    };
  });
}

/** The same for several runs that have one cause, in one finding. */
export interface RunsOutlets extends Omit<RunOutlets, 'name'> {
  /** `run "A"`, or `runs "A", "B" and 3 more`. */
  readonly runs: string;
}

/**
 * Runs of one control set, and of one kind where `kindOf` tells them apart, taken together: what is wrong with the zone
 * is wrong with all of its runs, and is said once.
 */
export function byControl(
  runs: readonly RunOutlets[],
  planNetwork: PlanNetwork,
  kindOf: (one: RunOutlets) => string = () => '',
): RunsOutlets[] {
  const { controlOfOutlet } = fedBy(planNetwork);
  const groups = new Map<string, RunOutlets[]>();
  for (const one of runs) {
    const key = `${controlOfOutlet[one.indices[0]!] ?? -1} ${kindOf(one)}`;
    const group = groups.get(key);
    if (group) group.push(one);
    else groups.set(key, [one]);
  }
  return [...groups.values()].map((group) => ({
    runs: `${agree(group.length, 'run', 'runs')} ${listed(group.map(({ name }) => name))}`,
    outlets: group.flatMap(({ outlets }) => outlets),
    indices: group.flatMap(({ indices }) => indices),
    refs: group.flatMap(({ refs }) => refs),
  }));
}
