import { distance, type Point } from '../../base/point.ts';
import { nearestOnPath } from '../../base/polyline.ts';
import type { Edit } from '../../plan/edits/index.ts';
import type { Plan, Plant, PointEmitter } from '../../plan/records.ts';
import { longWay } from './long-way.ts';
import { soundPlants } from './place.ts';
import { placerFor } from './placer.ts';
import { rehung } from './rehang.ts';

/** Emitters of plants as they will stand for the grown plants. */
export interface MovedOut {
  readonly emitters: readonly PointEmitter[];
  /** Straight way from its run to the furthest of them, in plan, metres. */
  readonly furthestM: number;
}

/** An emitter is moved where it comes further from the stem by more than this, metres. */
const WORTH_M = 0.02;

/**
 * The emitters of plants moved out to where they stand for the mature canopy, each plant's to as many places round it,
 * and hung on the nearest run again. Only what comes further from the stem moves; emitters that plants share stay.
 */
export function movedOut(plan: Plan, plants: readonly Plant[]): MovedOut {
  const own = soundPlants(
    [...new Set(plants.map(({ id }) => id))].flatMap((id) => plan.plants.get(id) ?? []),
  );
  const placer = placerFor(plan, longWay(own.map(({ at }) => at)));
  const byPlant = new Map<string, PointEmitter[]>();
  for (const emitter of plan.emitters) {
    if (emitter.plantId === null || emitter.alsoPlantIds?.length || !emitter.at.every(Number.isFinite))
      continue;
    const list = byPlant.get(emitter.plantId);
    if (list) list.push(emitter);
    else byPlant.set(emitter.plantId, [emitter]);
  }
  const moved: PointEmitter[] = [];
  for (const plant of own) {
    const emitters = byPlant.get(plant.id) ?? [];
    if (emitters.length === 0) continue;
    const places = placer.placesAt(plant, emitters.length, 'mature');
    for (const [emitter, at] of pairs(emitters, places)) {
      if (distance(at, plant.at) > distance(emitter.at, plant.at) + WORTH_M) moved.push({ ...emitter, at });
    }
  }
  if (moved.length === 0) return { emitters: [], furthestM: 0 };
  const emitters = rehung(plan, moved);
  const furthestM = emitters.reduce((most, { at, runId, fromEmitterId }) => {
    const run = plan.runs.get(runId);
    if (!run || fromEmitterId !== undefined || run.path.length < 2) return most;
    return Math.max(most, nearestOnPath(run.path, at).distance);
  }, 0);
  return { emitters, furthestM };
}

/** One step of history that moves emitters out; ids are kept. Applied to another plan it is worked out anew. */
export function moveOutEdit(
  plan: Plan,
  plants: readonly Plant[],
  label: string,
  moved: MovedOut = movedOut(plan, plants),
): Edit {
  return {
    label,
    apply: (now) => {
      const { emitters } = now === plan ? moved : movedOut(now, plants);
      return emitters.length === 0 ? now : { ...now, emitters: now.emitters.with(...emitters) };
    },
  };
}

/** Emitters and places by the shortest moves, the shortest first; what is left over of either is left out. */
function pairs(
  emitters: readonly PointEmitter[],
  places: readonly Point[],
): (readonly [PointEmitter, Point])[] {
  const all = emitters
    .flatMap((emitter, e) => places.map((at, p) => ({ e, p, far: distance(emitter.at, at) })))
    .sort((a, b) => a.far - b.far || a.e - b.e || a.p - b.p);
  const [usedE, usedP] = [new Set<number>(), new Set<number>()];
  const found: (readonly [PointEmitter, Point])[] = [];
  for (const { e, p } of all) {
    if (usedE.has(e) || usedP.has(p)) continue;
    usedE.add(e);
    usedP.add(p);
    found.push([emitters[e]!, places[p]!]);
  }
  return found;
}
