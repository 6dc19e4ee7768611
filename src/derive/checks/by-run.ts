import type { Plan, Ref } from '../../plan/records.ts';
import { called } from '../network/notices.ts';
import type { OutletResult } from '../results.ts';

/** Outlets gathered by their run, with the run's name for a sentence. */
export interface RunOutlets {
  readonly name: string;
  readonly outlets: readonly OutletResult[];
  readonly refs: readonly Ref[];
}

/** The outlets that `picks` takes, by run, in the order in which runs first appear. */
export function outletsByRun(
  plan: Plan,
  outlets: readonly OutletResult[],
  picks: (outlet: OutletResult) => boolean,
): RunOutlets[] {
  const byRun = new Map<string, OutletResult[]>();
  for (const outlet of outlets) {
    if (!picks(outlet)) continue;
    const list = byRun.get(outlet.runId);
    if (list) list.push(outlet);
    else byRun.set(outlet.runId, [outlet]);
  }
  return [...byRun].map(([runId, list]) => ({
    name: called(plan.runs.get(runId) ?? { id: runId }),
    outlets: list,
    refs: [
      { table: 'runs', id: runId } as const,
      ...list.filter((outlet) => outlet.owner.table === 'emitters').map((outlet) => outlet.owner),
    ],
  }));
}
