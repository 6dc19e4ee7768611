import { distance } from '../../base/point.ts';
import { nearestOnPath } from '../../base/polyline.ts';
import type { Edit } from '../../plan/edits/index.ts';
import { plantsOf, withPlants } from '../../plan/emitter-plants.ts';
import type { Plan, PointEmitter } from '../../plan/records.ts';

/** More emitters than this are not hung on one feeder tube: no 1/4 in tube feeds them. */
export const MOST_ON_FEEDER = 6;
/** So many are usual at the most, and why. */
export const USUAL_ON_FEEDER = 2;
export const ON_FEEDER_SOURCE =
  'one emitter on a feeder tube, two at the most: independent tutorial on drip irrigation, seen in a copy';

/**
 * Hangs emitters on one feeder tube: it starts at the run of the one that is nearest to its run, and reaches the others
 * by the shortest pieces, each from one that is reached already. All then hang on that run and sit at their plants.
 * Leaves a plan as it is where fewer than two of them are there.
 */
export function hangOnOneFeeder(label: string, ids: readonly string[]): Edit {
  return {
    label,
    apply: (plan) => {
      const own = [...new Set(ids)].flatMap((id) => plan.emitters.get(id) ?? []);
      if (own.length < 2) return plan;
      const root = own.reduce((best, one) => (wayToRun(plan, one) < wayToRun(plan, best) ? one : best));
      const hung = [atPlant(withoutStart(root))];
      let left = own.filter(({ id }) => id !== root.id);
      while (left.length > 0) {
        let best = { one: left[0]!, start: root, far: Infinity };
        for (const one of left) {
          for (const start of hung) {
            const far = distance(one.at, start.at);
            if (far < best.far) best = { one, start, far };
          }
        }
        const { one, start } = best;
        hung.push({ ...atPlant(one), runId: root.runId, fromEmitterId: start.id });
        left = left.filter(({ id }) => id !== one.id);
      }
      return { ...plan, emitters: plan.emitters.with(...withFollowers(plan, hung)) };
    },
  };
}

/** Leads a feeder of its own from the run to each of the emitters, and to those whose feeders start at them. */
export function hangApart(label: string, ids: readonly string[]): Edit {
  return {
    label,
    apply: (plan) => {
      const chosen = new Set(ids);
      const freed = [...plan.emitters].filter(
        ({ id, fromEmitterId }) =>
          fromEmitterId !== undefined && (chosen.has(id) || chosen.has(fromEmitterId)),
      );
      return freed.length === 0
        ? plan
        : { ...plan, emitters: plan.emitters.with(...freed.map(withoutStart)) };
    },
  };
}

/** Lets plants share an emitter with those that have it; plants that are not on the plan are left out. */
export function shareEmitter(label: string, emitterId: string, plantIds: readonly string[]): Edit {
  return withPlantsOf(label, emitterId, (own) => [...own, ...plantIds]);
}

/** Takes a plant from those that an emitter waters. */
export function unshareEmitter(label: string, emitterId: string, plantId: string): Edit {
  return withPlantsOf(label, emitterId, (own) => own.filter((id) => id !== plantId));
}

/** Puts emitters on the run, their feeders open at the plants, or at the ends of their feeders. */
export function seatEmitters(label: string, ids: readonly string[], on: 'plant' | 'run'): Edit {
  return {
    label,
    apply: (plan) => {
      const starts = new Set([...plan.emitters].map(({ fromEmitterId }) => fromEmitterId));
      const seated = ids.flatMap((id): PointEmitter[] => {
        const emitter = plan.emitters.get(id);
        if (!emitter) return [];
        // Behind an emitter on the run there is no pressure for others.
        if (on === 'run') return starts.has(id) ? [] : [{ ...emitter, onRun: true }];
        return [atPlant(emitter)];
      });
      return seated.length === 0 ? plan : { ...plan, emitters: plan.emitters.with(...seated) };
    },
  };
}

function withPlantsOf(
  label: string,
  emitterId: string,
  change: (own: readonly string[]) => readonly string[],
): Edit {
  return {
    label,
    apply: (plan) => {
      const emitter = plan.emitters.get(emitterId);
      if (!emitter) return plan;
      const plants = change(plantsOf(emitter)).filter((id) => plan.plants.has(id));
      return { ...plan, emitters: plan.emitters.with(withPlants(emitter, plants)) };
    },
  };
}

function wayToRun(plan: Plan, { at, runId }: PointEmitter): number {
  const run = plan.runs.get(runId);
  return run && run.path.length > 0 ? nearestOnPath(run.path, at).distance : Infinity;
}

function withoutStart(emitter: PointEmitter): PointEmitter {
  const { fromEmitterId: _, ...rest } = emitter;
  return rest;
}

function atPlant(emitter: PointEmitter): PointEmitter {
  const { onRun: _, ...rest } = emitter;
  return rest;
}

/** Emitters, and those further on whose feeders start at one of them, all on the run of that one. */
function withFollowers(plan: Plan, emitters: readonly PointEmitter[]): PointEmitter[] {
  const next = new Map(emitters.map((one) => [one.id, one]));
  const followers = new Map<string, PointEmitter[]>();
  for (const one of plan.emitters) {
    if (one.fromEmitterId === undefined || next.has(one.id)) continue;
    const list = followers.get(one.fromEmitterId);
    if (list) list.push(one);
    else followers.set(one.fromEmitterId, [one]);
  }
  const queue = [...next.values()];
  for (let i = 0; i < queue.length; i++) {
    const { id, runId } = queue[i]!;
    for (const follower of followers.get(id) ?? []) {
      if (next.has(follower.id)) continue;
      const moved = { ...follower, runId };
      next.set(moved.id, moved);
      queue.push(moved);
    }
  }
  return [...next.values()];
}
