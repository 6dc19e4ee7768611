import { distance, type Path, type Point } from '../../base/point.ts';
import { segmentsCross } from '../../base/polyline.ts';
import { ringContains } from '../../base/polygon.ts';
import { boxOf } from '../../base/point.ts';
import { placeOnRun } from '../../plan/on-run.ts';
import { remove } from '../../plan/edits/index.ts';
import { refKey, type Plan, type Ref } from '../../plan/records.ts';
import { deletedSaid } from '../told.ts';
import { NO_DRAFT, type Step, type Tool, type ToolContext } from './tool.ts';

/** States of drawing round things: at rest, or a ring (or box) under way. */
export type Lassoing =
  | { readonly name: 'rest' }
  | { readonly name: 'ringing'; readonly points: readonly Point[]; readonly add: boolean };

const REST: Lassoing = { name: 'rest' };

/** What lies wholly inside a ring. A ring that crosses itself is read by the even-odd rule. */
export function insideRing(plan: Plan, ring: readonly Point[]): Ref[] {
  const box = boxOf(ring);
  if (!box || ring.length < 3) return [];
  const inside = (at: Point): boolean =>
    at[0] >= box.minX &&
    at[0] <= box.maxX &&
    at[1] >= box.minY &&
    at[1] <= box.maxY &&
    ringContains(ring, at);
  // With both ends inside a piece may still leave the ring and come back.
  const leaves = (a: Point, b: Point): boolean =>
    ring.some((p, i) => segmentsCross(a, b, p, ring[(i + 1) % ring.length]!));
  const whole = (path: Path, closed: boolean): boolean =>
    path.length > 0 &&
    path.every(inside) &&
    !path.some((p, i) => {
      const next = path[i + 1] ?? (closed ? path[0] : undefined);
      return next !== undefined && leaves(p, next);
    });
  const refs: Ref[] = [];
  for (const table of ['supplies', 'controls', 'emitters', 'heads', 'levels', 'plants'] as const) {
    for (const { id, at } of plan[table]) if (inside(at)) refs.push({ table, id });
  }
  for (const table of ['flushEnds', 'checkValves', 'lineParts'] as const) {
    for (const { id } of plan[table]) {
      const at = placeOnRun(plan, { table, id });
      if (at && inside(at)) refs.push({ table, id });
    }
  }
  for (const { id, path } of plan.runs) if (whole(path, false)) refs.push({ table: 'runs', id });
  for (const { id, a, b } of plan.laterals) if (whole([a, b], false)) refs.push({ table: 'laterals', id });
  for (const { id, from, to } of plan.falls) if (whole([from, to], false)) refs.push({ table: 'falls', id });
  for (const { id, outline } of plan.areas) if (whole(outline, true)) refs.push({ table: 'areas', id });
  return refs;
}

/** The selection after things were found; with Shift what is chosen already to the last one is given up again. */
function joined(
  selection: readonly Ref[],
  found: readonly Ref[],
  does: 'choose' | 'add' | 'take',
  shift: boolean,
): readonly Ref[] {
  const keys = new Set(found.map(refKey));
  const chosen = new Set(selection.map(refKey));
  const without = () => selection.filter((ref) => !keys.has(refKey(ref)));
  if (does === 'take') return without();
  if (does === 'choose' && !shift) return found;
  if (shift && found.length > 0 && found.every((ref) => chosen.has(refKey(ref)))) return without();
  return [...selection, ...found.filter((ref) => !chosen.has(refKey(ref)))];
}

const boxRing = ([x0, y0]: Point, [x1, y1]: Point): Point[] => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];

function ringOf(
  { points }: Extract<Lassoing, { name: 'ringing' }>,
  to: Point,
  context: ToolContext,
): readonly Point[] {
  return context.choices.lasso.form === 'box' ? boxRing(points[0]!, to) : [...points, to];
}

/** Draws round things to choose them: freehand or a box, with a finger too. A press in place chooses one thing. */
export const lassoTool: Tool<Lassoing> = {
  name: 'lasso',
  start: REST,
  handle(state, input, context): Step<Lassoing> {
    const rest = (more: Partial<Step<Lassoing>> = {}): Step<Lassoing> => ({
      state: REST,
      draft: NO_DRAFT,
      ...more,
    });
    const { selection, plan, choices } = context;
    switch (input.kind) {
      case 'down':
        return { state: { name: 'ringing', points: [input.at], add: input.add }, draft: NO_DRAFT };
      case 'move': {
        if (state.name === 'rest') return rest();
        const far = distance(state.points.at(-1)!, input.at) >= context.toleranceM / 3;
        const next = far ? { ...state, points: [...state.points, input.at] } : state;
        const points = ringOf(next, input.at, context);
        return { state: next, draft: { ...NO_DRAFT, lines: [{ points, closed: true, guide: true }] } };
      }
      case 'up': {
        if (state.name === 'rest') return rest();
        const ring = ringOf(state, input.at, context);
        const start = state.points[0]!;
        const inPlace = state.points.every((p) => distance(p, start) < context.toleranceM);
        const found = inPlace
          ? context.pick(input.at).slice(0, 1)
          : insideRing(plan, ring).filter(context.mayTouch);
        // One thing that is pressed again is given up again.
        const shift = state.add || (inPlace && choices.lasso.does === 'add');
        const select = joined(selection, found, choices.lasso.does, shift);
        return rest({
          select,
          ...(found.length === 0 && !inPlace
            ? { say: 'Nothing lies wholly inside. Draw round whole things.' }
            : {}),
        });
      }
      case 'back': {
        if (!selection.length) return rest();
        if (!context.mayEdit)
          return rest({ say: 'This view only looks. Change the plan in Survey or Lay out.' });
        return rest({ keep: remove('Delete', selection), select: [], say: deletedSaid(selection) });
      }
      case 'escape':
        if (state.name !== 'rest') return rest();
        return selection.length ? rest({ select: [] }) : rest({ done: true });
      default:
        return { state, draft: NO_DRAFT };
    }
  },
};
