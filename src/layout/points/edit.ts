import type { UnitSystem } from '../../base/quantity.ts';
import { feederCutM } from '../../derive/feeders.ts';
import { freshIds, remove, type Edit } from '../../plan/edits/index.ts';
import { plantsOf, withPlants } from '../../plan/emitter-plants.ts';
import type { Plan, Plant, PointEmitter, Ref, Run } from '../../plan/records.ts';
import type { PointChoices } from './choices.ts';
import type { PointNote } from './note.ts';
import { withFlushEnds } from './flush-ends.ts';
import { placeEmitters, type Placed } from './place.ts';
import { routeTubing, type Route } from './route.ts';

/** Emitters and tubing for some plants, with their figures. */
export interface PointLayout {
  readonly placed: readonly Placed[];
  readonly route: Route;
  readonly emitterCount: number;
  /** Rated flow of all, L/h. */
  readonly flowLph: number;
  readonly tubingM: number;
  readonly feederCount: number;
  readonly feederM: number;
  /** The same as they are cut, with slack, metres. */
  readonly feederCutM: number;
  readonly longestFeederM: number;
  /** Emitters of these plants that are taken away first, or taken from them where others share them. */
  readonly replaced: number;
  readonly notes: readonly PointNote[];
}

/** Places emitters at plants and leads tubing to them; changes nothing. Plants that are not on the plan are left out. */
export function layPoints(
  plan: Plan,
  plants: readonly Plant[],
  choices: PointChoices,
  units: UnitSystem = 'us',
): PointLayout {
  const own = [...new Set(plants.map(({ id }) => id))].flatMap((id) => plan.plants.get(id) ?? []);
  const placement = placeEmitters(plan, own, choices);
  const route = routeTubing(plan, placement.emitters, choices, units);
  const hung = placement.emitters.flatMap((placed, i) => {
    const on = route.hung[i];
    return on ? [{ placed, on }] : [];
  });
  const feeders = hung.filter(({ on }) => on.feederM > 0);
  const feederM = feeders.reduce((sum, { on }) => sum + on.feederM, 0);
  return {
    placed: placement.emitters,
    route,
    emitterCount: hung.length,
    flowLph: hung.reduce((sum, { placed }) => sum + placed.ratedFlowLph, 0),
    tubingM: route.tubingM,
    feederCount: feeders.length,
    feederM,
    feederCutM: feederCutM(feederM, plan.practice),
    longestFeederM: feeders.reduce((most, { on }) => Math.max(most, on.feederM), 0),
    replaced: choices.replace ? emittersOfPlants(plan, own).length : 0,
    notes: [...placement.notes, ...route.notes],
  };
}

/**
 * One step of history that adds the emitters of some plants, each on the nearest run, and the blank runs that feed
 * them, with a flush end where they end. With `replace` the emitters that these plants had are taken away. Applied to another plan it is laid out anew.
 */
export function pointsEdit(
  plan: Plan,
  plants: readonly Plant[],
  choices: PointChoices,
  label: string,
  layout: PointLayout = layPoints(plan, plants, choices),
): Edit {
  return {
    label,
    apply: (now) => laidOn(now, plants, choices, now === plan ? layout : layPoints(now, plants, choices)),
  };
}

function laidOn(plan: Plan, plants: readonly Plant[], choices: PointChoices, layout: PointLayout): Plan {
  const { route, placed } = layout;
  const runIds = freshIds(plan, 'runs', route.runs.length);
  const runs = route.runs.map((path, i): Run => ({
    id: runIds[i]!,
    name: `Run ${plan.runs.size + i + 1}`,
    path,
    tubing: choices.tubing,
    inline: null,
  }));
  const ids = freshIds(plan, 'emitters', placed.length);
  const emitters = placed.flatMap(({ plantId, alsoPlantIds, at, law, ratedFlowLph }, i): PointEmitter[] => {
    const on = route.hung[i];
    if (!on) return [];
    const runId = 'id' in on.run ? on.run.id : runIds[on.run.number]!;
    return [
      {
        id: ids[i]!,
        runId,
        at,
        plantId,
        ...(alsoPlantIds && { alsoPlantIds }),
        law,
        ratedFlowLph,
        ...(choices.emitterAt === 'run' && on.feederM > 0 && { onRun: true }),
      },
    ];
  });
  if (emitters.length === 0) return plan;
  const kept = choices.replace ? withoutEmitters(plan, plants) : plan;
  const laid = {
    ...kept,
    runs: runs.length ? kept.runs.with(...runs) : kept.runs,
    emitters: kept.emitters.with(...emitters),
  };
  return withFlushEnds(laid, runs, choices.start.kind === 'place' ? [choices.start.at] : []);
}

/** Emitters that water one of the plants, also such as they share with others. */
export function emittersOfPlants(
  plan: Pick<Plan, 'emitters'>,
  plants: readonly Pick<Plant, 'id'>[],
): PointEmitter[] {
  const ids = new Set(plants.map(({ id }) => id));
  return [...plan.emitters].filter((emitter) => plantsOf(emitter).some((id) => ids.has(id)));
}

/** Without the emitters of plants; those that other plants share stay with these. */
function withoutEmitters(plan: Plan, plants: readonly Plant[]): Plan {
  const ids = new Set(plants.map(({ id }) => id));
  const gone: Ref[] = [];
  const shared: PointEmitter[] = [];
  for (const emitter of emittersOfPlants(plan, plants)) {
    const others = plantsOf(emitter).filter((id) => !ids.has(id));
    if (others.length > 0) shared.push(withPlants(emitter, others));
    else gone.push({ table: 'emitters', id: emitter.id });
  }
  const next = gone.length > 0 ? remove('', gone).apply(plan) : plan;
  if (shared.length === 0) return next;
  // The feeder of one that stays may have lost its start just now.
  const emitters = shared.map((one) => {
    const { fromEmitterId: _, ...rest } = one;
    const start = next.emitters.get(one.id)?.fromEmitterId;
    return start === undefined ? rest : { ...rest, fromEmitterId: start };
  });
  return { ...next, emitters: next.emitters.with(...emitters) };
}
