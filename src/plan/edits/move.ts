import { distance, shifted, type Point } from '../../base/point.ts';
import { rootZoneRadius } from '../../catalog/index.ts';
import { plantsOf, withPlants } from '../emitter-plants.ts';
import type { Plan, PointEmitter, Ref, TableName } from '../records.ts';
import {
  carryRunEnds,
  partsOnRuns,
  pathCarrier,
  pointCarrier,
  SITTING_ON_RUNS,
  type Carrier,
} from './attached.ts';
import type { Edit } from './edit.ts';
import { fallEndsCarried } from './fall-ends.ts';
import { endsThatFollow, settled, withEndsShifted } from './lateral-ends.ts';
import { tableOf, withTable } from './put.ts';

const NONE: ReadonlySet<string> = new Set();

/** A copy of any record, moved. Tables differ only in how they hold their places. */
export function movedRecord<R extends object>(record: R, dx: number, dy: number): R {
  const to = (p: Point) => shifted(p, dx, dy);
  const next = { ...record } as Record<string, unknown>;
  for (const [key, value] of Object.entries(record)) {
    if (key === 'at' || key === 'a' || key === 'b') next[key] = to(value as Point);
    // The ends of a fall are places, those of a lateral are names.
    else if ((key === 'from' || key === 'to') && Array.isArray(value))
      next[key] = to(value as unknown as Point);
    else if (key === 'path' || key === 'outline') next[key] = (value as Point[]).map(to);
    else if (key === 'holes') next[key] = (value as Point[][]).map((ring) => ring.map(to));
  }
  return next as R;
}

/**
 * Moves records by (dx, dy) metres. What hangs on them goes along: a plant's and a run's point emitters (one that plants
 * share with its own plant, and it waters the others no longer that it is then out of reach of), a run's
 * check valves and other parts, the ends of other runs that are joined to a moved run, control set or supply, the ends of old
 * pipes that are joined to a moved pipe, head or supply, and the ends of falls on a moved level. A part of a run moved by itself slides along it; a flush
 * end stays at the end of its run.
 */
export function move(label: string, refs: readonly Ref[], dx: number, dy: number): Edit {
  return {
    label,
    apply: (plan) => {
      const ids = new Map<TableName, Set<string>>();
      const take = (table: TableName, id: string) => {
        if (!ids.has(table)) ids.set(table, new Set());
        ids.get(table)!.add(id);
      };
      for (const ref of refs) if (ref.table !== 'flushEnds' && ref.table !== 'fills') take(ref.table, ref.id);
      for (const emitter of plan.emitters) {
        const withPlant = emitter.plantId !== null && ids.get('plants')?.has(emitter.plantId);
        if (withPlant || ids.get('runs')?.has(emitter.runId)) take('emitters', emitter.id);
      }
      for (const table of SITTING_ON_RUNS) {
        for (const part of plan[table]) if (ids.get('runs')?.has(part.runId)) take(table, part.id);
      }

      const carriers: Carrier[] = [];
      const stations = new Set([...(ids.get('heads') ?? NONE), ...(ids.get('supplies') ?? NONE)]);
      const pipeEnds = endsThatFollow(plan, { pipes: ids.get('laterals') ?? NONE, stations });
      let next: Plan = withEndsShifted(plan, pipeEnds, dx, dy);
      for (const [table, chosen] of ids) {
        if (table === 'laterals') continue;
        const records = tableOf(plan, table);
        const moved = [...chosen].flatMap((id) => {
          const record = records.get(id);
          return record ? [movedRecord(record, dx, dy)] : [];
        });
        next = withTable(next, table, records.with(...moved) as never);
      }
      for (const id of ids.get('runs') ?? []) {
        const run = plan.runs.get(id);
        if (run) carriers.push(pathCarrier(run.path, movedRecord(run, dx, dy).path));
      }
      for (const table of ['controls', 'supplies'] as const) {
        for (const id of ids.get(table) ?? []) {
          const record = plan[table].get(id);
          if (record) carriers.push(pointCarrier(record.at, shifted(record.at, dx, dy)));
        }
      }
      next = fallEndsCarried(plan, next, ids.get('levels') ?? NONE, ids.get('falls') ?? NONE, dx, dy);
      next = settled(next, pipeEnds, stations);
      for (const table of SITTING_ON_RUNS) next = partsOnRuns(next, table, ids.get(table) ?? NONE);
      next = carryRunEnds(next, carriers, ids.get('runs') ?? NONE, ids.get('emitters') ?? NONE);
      return withinReach(plan, next, ids.get('plants') ?? NONE);
    },
  };
}

/** Plants no longer share an emitter that was in their root zone and is not any more since one of both was moved. */
function withinReach(before: Plan, after: Plan, movedPlants: ReadonlySet<string>): Plan {
  if (movedPlants.size === 0) return after;
  const reaches = (plan: Plan, emitter: PointEmitter, id: string): boolean => {
    const plant = plan.plants.get(id);
    return (
      plant !== undefined &&
      distance(plant.at, emitter.at) <= rootZoneRadius(plant.plantClass, plant.canopyMatureM) + REACH_HAIR_M
    );
  };
  const changed: PointEmitter[] = [];
  for (const emitter of after.emitters) {
    const was = before.emitters.get(emitter.id);
    if (!was || !emitter.alsoPlantIds?.length || !plantsOf(emitter).some((id) => movedPlants.has(id)))
      continue;
    const kept = plantsOf(emitter).filter(
      (id) => id === emitter.plantId || !reaches(before, was, id) || reaches(after, emitter, id),
    );
    if (kept.length < plantsOf(emitter).length) changed.push(withPlants(emitter, kept));
  }
  return changed.length === 0 ? after : { ...after, emitters: after.emitters.with(...changed) };
}

/** Rounding of a place on the edge of a root zone, metres. */
const REACH_HAIR_M = 1e-6;
