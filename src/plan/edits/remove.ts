import type { Plan, Ref, TableName } from '../records.ts';
import type { Edit } from './edit.ts';
import { tableOf, withTable } from './put.ts';

/** Tables whose records cannot be without their run. */
const ON_RUNS = ['emitters', 'checkValves', 'flushEnds'] as const;

/**
 * Takes records out and what cannot be without them: a run takes its point emitters, check valves and flush ends
 * along; an emitter outlives its plant but no longer names it.
 */
export function remove(label: string, refs: readonly Ref[]): Edit {
  return {
    label,
    apply: (plan) => {
      const gone = (table: TableName) => new Set(refs.filter((r) => r.table === table).map((r) => r.id));
      const runs = gone('runs');
      const plants = gone('plants');

      let next: Plan = plan;
      for (const table of new Set(refs.map((ref) => ref.table))) {
        next = withTable(next, table, tableOf(next, table).without(gone(table)) as never);
      }
      for (const table of runs.size ? ON_RUNS : []) {
        const hanging = [...next[table]].filter((record) => runs.has(record.runId));
        next = withTable(next, table, next[table].without(hanging.map(({ id }) => id)) as never);
      }
      if (plants.size) {
        const orphans = [...next.emitters].filter((e) => e.plantId !== null && plants.has(e.plantId));
        if (orphans.length) {
          next = withTable(
            next,
            'emitters',
            next.emitters.with(...orphans.map((e) => ({ ...e, plantId: null }))),
          );
        }
      }
      return next;
    },
  };
}
