import { formatQuantity, type UnitSystem } from '../../base/quantity.ts';
import type { Plan } from '../../plan/records.ts';
import { called } from '../network/notices.ts';
import type { Notice } from '../results.ts';
import { counted } from '../wording.ts';
import { drainDown, type DrainedOutlet } from './drain-down.ts';
import { networkFor } from './network-for.ts';

/** Water that leaves one outlet after each cycle: worth a word above the one, a puddle above the other, L. */
const TOLD_L = 1;
const PUDDLE_L = 3.8;

/** Where tubing empties through one outlet after each cycle: one notice for each run, with its worst outlet. */
export function drainNotices(plan: Plan, units: UnitSystem): Notice[] {
  const byRun = new Map<string, DrainedOutlet[]>();
  for (const one of drainDown(plan).outlets) {
    // The most comes first.
    if (one.volumeL <= TOLD_L) break;
    const list = byRun.get(one.runId);
    if (list) list.push(one);
    else byRun.set(one.runId, [one]);
  }
  if (byRun.size === 0) return [];
  const placed = networkFor(plan, { kind: 'running' }).outlets;
  return [...byRun].map(([runId, outlets]): Notice => {
    const worst = outlets[0]!;
    const others = outlets.length - 1;
    const hasCheck = placed[worst.outlet]!.closingKpa !== null;
    return {
      rule: 'drain-down',
      severity: worst.volumeL > PUDDLE_L ? 'warning' : 'info',
      message: `${formatQuantity('volume', worst.volumeL, units)} drain at emitter ${worst.number} of run ${called(plan.runs.get(runId) ?? { id: runId })} after each cycle${others > 0 ? `, and more than ${formatQuantity('volume', TOLD_L, units)} at ${counted(others, 'other')}` : ''}: ${hasCheck ? 'a check valve up the slope holds it; the fall is more than its emitters hold' : 'emitters with a check, or a check valve, would hold it'}.`,
      refs: [
        { table: 'runs', id: runId },
        ...outlets.filter(({ owner }) => owner.table === 'emitters').map(({ owner }) => owner),
      ],
      source:
        'common practice: low emitters that drain the tubing leave wet spots and draw air and soil in above',
    };
  });
}
