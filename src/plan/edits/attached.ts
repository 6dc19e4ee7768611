import { nearestOnPath } from '../../base/polyline.ts';
import { between, boxHas, boxOf, distance, type Path, type Point } from '../../base/point.ts';
import type { CheckValve, LinePart, Plan, PointEmitter, Run } from '../records.ts';
import { JOINT_TOLERANCE_M, ON_TUBING_M } from '../joining.ts';
import { withTable } from './put.ts';

/** Says where a place on something that moved has gone; `null` where the place was not on it. */
export type Carrier = (place: Point) => Point | null;

/** Carrier of a path whose vertices moved one by one (same count before and after). */
export function pathCarrier(before: Path, after: Path, toleranceM = JOINT_TOLERANCE_M): Carrier {
  const box = boxOf(before);
  return (place) => {
    // Most of a large plan lies far from what moves.
    if (!box || !boxHas(box, place, toleranceM)) return null;
    const near = nearestOnPath(before, place);
    if (near.distance > toleranceM) return null;
    const a = after[near.segment];
    const b = after[near.segment + 1];
    return a && b ? between(a, b, near.t) : null;
  };
}

/** Carrier of a single place. */
export function pointCarrier(before: Point, after: Point): Carrier {
  return (place) => (distance(before, place) <= JOINT_TOLERANCE_M ? after : null);
}

function carriedRun(run: Run, carriers: readonly Carrier[]): Run {
  const last = run.path.length - 1;
  let changed = false;
  const path = run.path.map((vertex, i) => {
    if (i !== 0 && i !== last) return vertex;
    for (const carrier of carriers) {
      const to = carrier(vertex);
      if (to && distance(to, vertex) > 0) {
        changed = true;
        return to;
      }
    }
    return vertex;
  });
  return changed ? { ...run, path } : run;
}

/**
 * Ends of runs that were joined to what moved go along, except those of the runs named in `but`; what sits on the
 * tubing of these runs follows, except the emitters named in `emittersBut`.
 */
export function carryRunEnds(
  plan: Plan,
  carriers: readonly Carrier[],
  but: ReadonlySet<string>,
  emittersBut: ReadonlySet<string> = new Set(),
): Plan {
  if (!carriers.length) return plan;
  let next = plan;
  for (const run of plan.runs) {
    if (but.has(run.id)) continue;
    const carried = carriedRun(run, carriers);
    if (carried === run) continue;
    next = carryAttached({ ...next, runs: next.runs.with(carried) }, run, carried, emittersBut);
  }
  return next;
}

/** What sits on the tubing of a run stays on it when its path changes: point emitters, check valves, line parts. */
export function carryAttached(plan: Plan, before: Run, after: Run, emittersBut: ReadonlySet<string>): Plan {
  const sameCount = before.path.length === after.path.length;
  const carrier = pathCarrier(before.path, after.path, Infinity);
  const carried = (at: Point) => (sameCount ? carrier(at) : null) ?? nearestOnPath(after.path, at).point;
  const emitters: PointEmitter[] = [];
  for (const emitter of plan.emitters) {
    if (emitter.runId !== before.id || emittersBut.has(emitter.id)) continue;
    if (nearestOnPath(before.path, emitter.at).distance > ON_TUBING_M) continue;
    emitters.push({ ...emitter, at: carried(emitter.at) });
  }
  const valves: CheckValve[] = [];
  for (const valve of plan.checkValves) {
    if (valve.runId === before.id) valves.push({ ...valve, at: carried(valve.at) });
  }
  const parts: LinePart[] = [];
  for (const part of plan.lineParts) {
    if (part.runId === before.id) parts.push({ ...part, at: carried(part.at) });
  }
  return {
    ...plan,
    ...(emitters.length && { emitters: plan.emitters.with(...emitters) }),
    ...(valves.length && { checkValves: plan.checkValves.with(...valves) }),
    ...(parts.length && { lineParts: plan.lineParts.with(...parts) }),
  };
}

/** Tables of parts that sit at a place on a run. */
export const SITTING_ON_RUNS = ['checkValves', 'lineParts'] as const;

/** Puts the parts of one table named in `ids` on the nearest place of their runs. */
export function partsOnRuns(
  plan: Plan,
  table: (typeof SITTING_ON_RUNS)[number],
  ids: ReadonlySet<string>,
): Plan {
  const placed = [...ids].flatMap((id): (CheckValve | LinePart)[] => {
    const part = plan[table].get(id);
    const run = part && plan.runs.get(part.runId);
    return run ? [{ ...part, at: nearestOnPath(run.path, part.at).point }] : [];
  });
  return placed.length ? withTable(plan, table, plan[table].with(...(placed as never[])) as never) : plan;
}
