import { nearestOnPath } from '../../base/polyline.ts';
import { between, distance, polar, type Point } from '../../base/point.ts';
import { rootZone } from '../../derive/root-zone.ts';
import { add, change, together, type Edit } from '../../plan/edits/index.ts';
import { JOINT_TOLERANCE_M, STANDS_ON_M } from '../../plan/joining.ts';
import type { Plan, Plant, Ref, Run } from '../../plan/records.ts';
import { UNMEASURED_SUPPLY } from '../../plan/empty.ts';
import type { Snap } from '../snap.ts';
import { addedTo, NO_DRAFT, type Tool, type ToolContext } from './tool.ts';

/** Tools that set one thing with one press have a single state. */
export interface Placing {
  readonly name: 'placing';
}
const PLACING: Placing = { name: 'placing' };

type Spot = { snap: Snap; edit: Edit | null; why?: string };

/** A tool that adds one record of a table with one press. */
export function placingTool(
  name: Tool<Placing>['name'],
  table: Ref['table'],
  spot: (at: Point, context: ToolContext) => Spot,
): Tool<Placing> {
  return {
    name,
    start: PLACING,
    handle: (state, input, context) => {
      if (input.kind === 'move') {
        const { snap, edit } = spot(input.at, context);
        return { state, draft: { ...NO_DRAFT, edit, snap } };
      }
      if (input.kind === 'down') {
        const { snap, edit, why } = spot(input.at, context);
        if (!edit) return { state, draft: { ...NO_DRAFT, snap }, ...(why ? { say: why } : {}) };
        return { state, draft: NO_DRAFT, keep: edit, select: addedTo(table) };
      }
      return { state, draft: NO_DRAFT, ...(input.kind === 'escape' ? { done: true } : {}) };
    },
  };
}

const free = (at: Point): Snap => ({ at, kind: 'free', guide: null });

export const plantTool = placingTool('plant', 'plants', (at, { choices }) => ({
  snap: free(at),
  edit: add('Place plant', 'plants', { ...choices.plant, at }),
}));

export const levelTool = placingTool('level', 'levels', (raw, context) => {
  const snap = context.snap(raw);
  return { snap, edit: add('Set level', 'levels', { at: snap.at, zM: context.choices.levelM }) };
});

export const supplyTool = placingTool('supply', 'supplies', (raw, context) => {
  const snap = context.snap(raw);
  const edit = add('Set supply', 'supplies', {
    ...UNMEASURED_SUPPLY,
    at: snap.at,
    name: `Supply ${context.plan.supplies.size + 1}`,
    pressureKpa: context.choices.supplyKpa,
  });
  return { snap, edit };
});

/** A place near an old head whose pipe passes beside it: on that pipe, where drip is tied in. */
function ontoOldPipe(plan: Plan, at: Point): Point {
  if (![...plan.heads].some((head) => distance(head.at, at) <= JOINT_TOLERANCE_M)) return at;
  let best = { point: at, distance: STANDS_ON_M };
  for (const pipe of plan.laterals) {
    if (pipe.fate === 'cut off') continue;
    const near = nearestOnPath([pipe.a, pipe.b], at);
    if (near.distance <= best.distance) best = near;
  }
  return best.point;
}

export const controlTool = placingTool('control', 'controls', (raw, context) => {
  const caught = context.snap(raw);
  const snap = { ...caught, at: ontoOldPipe(context.plan, caught.at) };
  const name = `Control set ${context.plan.controls.size + 1}`;
  const set = add('Set control set', 'controls', { at: snap.at, name, ...context.choices.control });
  // Where an old head stands, that head becomes the tie-in.
  const heads = [...context.plan.heads].filter((head) => distance(head.at, caught.at) <= JOINT_TOLERANCE_M);
  const ids = heads.map((head) => head.id);
  const tieIn = change('Make tie-in', 'heads', ids, { fate: 'tie-in' });
  return { snap, edit: heads.length ? together('Set control set at the tie-in', [set, tieIn]) : set };
});

/** The plant whose root zone is meant by a place: inside it, or within `toleranceM` of its edge. */
function plantAt(plan: Plan, at: Point, toleranceM: number): Plant | null {
  let best: Plant | null = null;
  let bestDistance = Infinity;
  for (const plant of plan.plants) {
    const far = distance(plant.at, at);
    if (far <= rootZone(plant).outerM + toleranceM && far < bestDistance) {
      best = plant;
      bestDistance = far;
    }
  }
  return best;
}

/** `at`, pulled into the plant's root zone along the line from the stem. */
function intoRootZone(plant: Plant, at: Point): Point {
  const { innerM, outerM } = rootZone(plant);
  const far = distance(plant.at, at);
  if (far >= innerM && far <= outerM) return at;
  const goal = far < innerM ? innerM : outerM;
  return far < 1e-9 ? polar(plant.at, goal, 90) : between(plant.at, at, goal / far);
}

/** The run nearest to a place among those that `fits` allows, and where on it that is. */
export function nearestRun(
  plan: Plan,
  at: Point,
  fits: (run: Run) => boolean,
): { run: Run; tap: Point; far: number } | null {
  let best: { run: Run; tap: Point; far: number } | null = null;
  for (const run of plan.runs) {
    if (!fits(run)) continue;
    const near = nearestOnPath(run.path, at);
    if (!best || near.distance < best.far) best = { run, tap: near.point, far: near.distance };
  }
  return best;
}

/**
 * Places point emitters. Near a plant the emitter catches on its root zone; where the tubing itself passes there,
 * within reach of the pointer, it sits on the tubing, else a feeder reaches it from the nearest blank run.
 */
export const emitterTool = placingTool('emitter', 'emitters', (raw, context) => {
  const { plan, toleranceM, choices } = context;
  const plant = plantAt(plan, raw, toleranceM);
  const wanted = plant ? intoRootZone(plant, raw) : raw;
  const near = nearestRun(plan, wanted, (run) => run.inline === null);
  if (!near) {
    return {
      snap: free(wanted),
      edit: null,
      why: 'Point emitters sit on blank tubing. Draw a run of tubing first.',
    };
  }
  const onTubing =
    near.far <= toleranceM && (!plant || distance(near.tap, plant.at) <= rootZone(plant).outerM);
  if (!plant && !onTubing) {
    return {
      snap: free(raw),
      edit: null,
      why: 'Press inside a plant’s root zone (its dashed circle) or on a run of blank tubing.',
    };
  }
  const at = onTubing ? near.tap : wanted;
  const guide: Snap['guide'] = onTubing ? null : [near.tap, at];
  return {
    snap: { at, kind: onTubing ? 'edge' : 'vertex', guide },
    edit: add('Place emitter', 'emitters', {
      at,
      runId: near.run.id,
      plantId: plant?.id ?? null,
      ...choices.emitter,
    }),
  };
});
