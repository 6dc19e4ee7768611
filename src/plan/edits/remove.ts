import type { Plan, Ref, TableName } from '../records.ts';
import type { Edit } from './edit.ts';
import { tableOf, withTable } from './put.ts';

/**
 * Takes records out and what cannot be without them: a run takes its point emitters along; an emitter outlives
 * its plant but no longer names it.
 */
export function remove(label: string, refs: readonly Ref[]): Edit {
  return {
    label,
    apply: (plan) => {
      const gone = (table: TableName) => new Set(refs.filter((r) => r.table === table).map((r) => r.id));
      const runs = gone('runs');
      const plants = gone('plants');
      const emitters = gone('emitters');
      for (const emitter of plan.emitters) if (runs.has(emitter.runId)) emitters.add(emitter.id);

      let next: Plan = plan;
      for (const table of new Set(refs.map((ref) => ref.table))) {
        const ids = table === 'emitters' ? emitters : gone(table);
        next = withTable(next, table, tableOf(next, table).without(ids) as never);
      }
      if (runs.size) next = withTable(next, 'emitters', next.emitters.without(emitters));
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
