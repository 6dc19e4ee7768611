import type { Plan, Ref } from '../../plan/records.ts';
import { called } from '../network/notices.ts';
import type { OutletResult } from '../results.ts';

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
