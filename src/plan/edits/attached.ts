import { nearestOnPath } from '../../base/polyline.ts';
import { between, distance, type Path, type Point } from '../../base/point.ts';
import type { Plan, PointEmitter, Run } from '../records.ts';

/** Two pieces of tubing are joined where they come closer than this, metres. */
export const JOINT_TOLERANCE_M = 0.01;
/** A point emitter closer than this to its run sits on the tubing, metres. */
const ON_TUBING_M = 0.05;

/** Says where a place on something that moved has gone; `null` where the place was not on it. */
export type Carrier = (place: Point) => Point | null;

/** Carrier of a path whose vertices moved one by one (same count before and after). */
export function pathCarrier(before: Path, after: Path, toleranceM = JOINT_TOLERANCE_M): Carrier {
  return (place) => {
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

/** Ends of runs that were joined to what moved go along, except those of the runs named in `but`. */
export function carryRunEnds(plan: Plan, carriers: readonly Carrier[], but: ReadonlySet<string>): Plan {
  if (!carriers.length) return plan;
  const changed = [...plan.runs].flatMap((run) => {
    if (but.has(run.id)) return [];
    const next = carriedRun(run, carriers);
    return next === run ? [] : [next];
  });
  return changed.length ? { ...plan, runs: plan.runs.with(...changed) } : plan;
}

/** Point emitters that sit on the tubing of a run stay on it when its path changes. */
export function carryEmitters(plan: Plan, before: Run, after: Run, but: ReadonlySet<string>): Plan {
  const sameCount = before.path.length === after.path.length;
  const carrier = pathCarrier(before.path, after.path, ON_TUBING_M);
  const moved: PointEmitter[] = [];
  for (const emitter of plan.emitters) {
    if (emitter.runId !== before.id || but.has(emitter.id)) continue;
    if (nearestOnPath(before.path, emitter.at).distance > ON_TUBING_M) continue;
    const at = sameCount ? carrier(emitter.at) : nearestOnPath(after.path, emitter.at).point;
    if (at) moved.push({ ...emitter, at });
  }
  return moved.length ? { ...plan, emitters: plan.emitters.with(...moved) } : plan;
}
