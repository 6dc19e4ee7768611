import { plantsOf } from '../emitter-plants.ts';
import type { Plan, PointEmitter, Ref, TableName } from '../records.ts';
import type { Edit } from './edit.ts';
import { tableOf, withTable } from './put.ts';

/** Tables whose records cannot be without their run. */
const ON_RUNS = ['emitters', 'checkValves', 'flushEnds', 'lineParts'] as const;

/**
 * Takes records out and what cannot be without them: a run takes its point emitters, check valves and flush ends
 * along; an emitter outlives its plant but no longer names it. A fill goes with its bed or tree, and its runs stay.
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
        const orphans = [...next.emitters].filter((e) => plantsOf(e).some((id) => plants.has(id)));
        if (orphans.length) {
          next = withTable(
            next,
            'emitters',
            next.emitters.with(...orphans.map((e) => withoutPlants(e, plants))),
          );
        }
      }
      const emittersGo = runs.size > 0 || gone('emitters').size > 0;
      const kept = withFillsKept(next, gone('areas'), plants, runs);
      return emittersGo ? withoutStarts(kept) : kept;
    },
  };
}

/** An emitter without plants that are gone; where its own is, the first of the others that stay takes its place. */
function withoutPlants(emitter: PointEmitter, gone: ReadonlySet<string>): PointEmitter {
  const [plantId = null, ...also] = plantsOf(emitter).filter((id) => !gone.has(id));
  const { alsoPlantIds: _, ...rest } = emitter;
  return { ...rest, plantId, ...(also.length && { alsoPlantIds: also }) };
}

/** Feeders that started at an emitter which is gone start at their run. */
function withoutStarts(plan: Plan): Plan {
  const loose = [...plan.emitters].filter(
    ({ fromEmitterId }) => fromEmitterId !== undefined && !plan.emitters.has(fromEmitterId),
  );
  if (!loose.length) return plan;
  const freed = loose.map((emitter): PointEmitter => {
    const { fromEmitterId: _, ...rest } = emitter;
    return rest;
  });
  return { ...plan, emitters: plan.emitters.with(...freed) };
}

/** Fills of beds, trees and runs that are gone go or lose them; what is left of one is no longer as it was drawn. */
function withFillsKept(
  plan: Plan,
  areas: ReadonlySet<string>,
  plants: ReadonlySet<string>,
  runs: ReadonlySet<string>,
): Plan {
  if (!plan.fills.size || !(areas.size || plants.size || runs.size)) return plan;
  let { fills } = plan;
  for (const fill of plan.fills) {
    const runIds = fill.runIds.filter((id) => !runs.has(id));
    const placeGone = fill.kind === 'bed' ? areas.has(fill.areaId) : plants.has(fill.plantId);
    if (placeGone || (runIds.length === 0 && fill.runIds.length > 0)) fills = fills.without([fill.id]);
    else if (runIds.length < fill.runIds.length) {
      const leadIds = fill.leadIds?.filter((id) => !runs.has(id));
      fills = fills.with({ ...fill, runIds, byHand: true, ...(leadIds && { leadIds }) });
    }
  }
  return withTable(plan, 'fills', fills);
}
