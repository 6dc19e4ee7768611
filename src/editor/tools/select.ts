import { distance, type Point } from '../../base/point.ts';
import { nearestOnSegment } from '../../base/polyline.ts';
import { pickInBox } from '../../drawing/pick.ts';
import {
  change,
  deleteVertex,
  insertVertex,
  move,
  moveVertex,
  remove,
  ringOf,
  FEWEST,
  type VertexRef,
} from '../../plan/edits/index.ts';
import { refKey, type Plan, type Ref } from '../../plan/records.ts';
import { deletedSaid } from '../told.ts';
import { groundPlaces } from './fall.ts';
import { handlePulled, headHandles, stepOf, type HandleSpot } from './head.ts';
import { NO_DRAFT, type Step, type Tool, type ToolContext } from './tool.ts';

/** States of selecting: at rest, pressed and not yet moved, dragging something, drawing a box. */
export type Selecting =
  | { readonly name: 'rest'; readonly vertex: VertexRef | null }
  | {
      readonly name: 'pressed';
      readonly at: Point;
      readonly grip: Grip | null;
      readonly narrowTo: readonly Ref[] | null;
    }
  | { readonly name: 'dragging'; readonly at: Point; readonly grip: Grip }
  | { readonly name: 'boxing'; readonly at: Point; readonly add: boolean };

type Grip =
  | { readonly kind: 'vertex'; readonly ref: VertexRef; readonly from: Point }
  | { readonly kind: 'insert'; readonly ref: VertexRef; readonly from: Point }
  | { readonly kind: 'head'; readonly spot: HandleSpot }
  | { readonly kind: 'records'; readonly refs: readonly Ref[] };

/** Things that catch on others while they are dragged alone. */
const CAUGHT: readonly Ref['table'][] = ['controls', 'supplies', 'heads'];

const REST: Selecting = { name: 'rest', vertex: null };

/** Rings and paths of the selected areas, runs, old pipes and falls: the ones whose vertices can be dragged. */
export function editableRings(plan: Plan, selection: readonly Ref[]): Omit<VertexRef, 'index'>[] {
  return selection.flatMap(({ table, id }): Omit<VertexRef, 'index'>[] => {
    if (table === 'runs' || table === 'laterals' || table === 'falls')
      return plan[table].has(id) ? [{ table, id, ring: 0 }] : [];
    if (table !== 'areas') return [];
    const area = plan.areas.get(id);
    return area ? [area.outline, ...area.holes].map((_, ring) => ({ table, id, ring })) : [];
  });
}

/** Middles of edges, where a new vertex can be pulled out: `index` is where it will go in. */
export function edgeMiddles(plan: Plan, ring: Omit<VertexRef, 'index'>): { at: Point; index: number }[] {
  if (ring.table === 'falls') return [];
  const points = ringOf(plan, ring) ?? [];
  const count = ring.table === 'areas' ? points.length : points.length - 1;
  return Array.from({ length: count }, (_, i) => {
    const a = points[i]!;
    const b = points[(i + 1) % points.length]!;
    return { at: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2] as Point, index: i + 1 };
  });
}

function gripAt(context: ToolContext, at: Point): Grip | null {
  const spot = headHandles(context.plan, context.selection).find(
    (one) => distance(one.at, at) <= context.toleranceM,
  );
  if (spot) return { kind: 'head', spot };
  const rings = editableRings(context.plan, context.selection);
  for (const ring of rings) {
    const points = ringOf(context.plan, ring) ?? [];
    const index = points.findIndex((p) => distance(p, at) <= context.toleranceM);
    if (index >= 0) return { kind: 'vertex', ref: { ...ring, index }, from: points[index]! };
  }
  for (const ring of rings) {
    const middle = edgeMiddles(context.plan, ring).find((m) => distance(m.at, at) <= context.toleranceM);
    if (middle) return { kind: 'insert', ref: { ...ring, index: middle.index }, from: middle.at };
  }
  return null;
}

const isPipeGrip = (grip: Grip): boolean => grip.kind === 'vertex' && grip.ref.table === 'laterals';

/** The edge of an editable ring that is under a point, as the place for a new vertex. */
function edgeAt(context: ToolContext, at: Point): { ref: VertexRef; at: Point } | null {
  for (const ring of editableRings(context.plan, context.selection)) {
    if (ring.table === 'falls') continue;
    const points = ringOf(context.plan, ring) ?? [];
    const count = ring.table === 'areas' ? points.length : points.length - 1;
    for (let i = 0; i < count; i++) {
      const near = nearestOnSegment(points[i]!, points[(i + 1) % points.length]!, at);
      if (near.distance <= context.toleranceM) return { ref: { ...ring, index: i + 1 }, at: near.point };
    }
  }
  return null;
}

function dragEdit(grip: Grip, start: Point, raw: Point, context: ToolContext) {
  if (grip.kind === 'records') {
    // One thing with a single place is caught on other things; a group moves freely.
    const only = grip.refs.length === 1 ? grip.refs[0]! : null;
    const record = only ? (context.plan[only.table].get(only.id) as { at?: Point } | undefined) : undefined;
    if (record?.at && CAUGHT.includes(only!.table)) {
      const snap = context.snap(raw, { except: [record.at] });
      const edit = move('Move', grip.refs, snap.at[0] - record.at[0], snap.at[1] - record.at[1]);
      return { edit, snap };
    }
    return { edit: move('Move', grip.refs, raw[0] - start[0], raw[1] - start[1]), snap: null };
  }
  if (grip.kind === 'head') {
    const { id } = grip.spot;
    const pattern = handlePulled(context.plan, grip.spot, raw, stepOf(context));
    return { edit: change('Change what a head wets', 'heads', [id], { pattern }), snap: null };
  }
  const ring = ringOf(context.plan, grip.ref) ?? [];
  const closed = grip.ref.table === 'areas';
  const at = (i: number) => (closed ? ring[(i + ring.length) % ring.length] : ring[i]);
  const before = at(grip.ref.index - 1);
  const snap = context.snap(raw, {
    from: before,
    before: at(grip.ref.index - 2),
    except: [grip.from],
    extra: grip.ref.table === 'falls' ? groundPlaces(context.plan) : [],
  });
  const edit =
    grip.kind === 'vertex'
      ? moveVertex('Move corner', grip.ref, snap.at)
      : insertVertex('Insert corner', grip.ref, snap.at);
  return { edit, snap };
}

/** Chooses, moves and reshapes what is on the plan. */
export const selectTool: Tool<Selecting> = {
  name: 'select',
  start: REST,
  handle(state, input, context): Step<Selecting> {
    const { plan, selection } = context;
    const rest = (more: Partial<Step<Selecting>> = {}): Step<Selecting> => ({
      state: state.name === 'rest' ? state : REST,
      draft: NO_DRAFT,
      ...more,
    });

    switch (input.kind) {
      case 'down': {
        const grip = context.mayEdit ? gripAt(context, input.at) : null;
        const hits = context.pick(input.at);
        const chosen = new Set(selection.map(refKey));
        if (grip) {
          // Heads and valves stand on the ends of old pipes: a press that drags nothing means them.
          const above = isPipeGrip(grip) ? hits[0] : undefined;
          const narrowTo = above && !chosen.has(refKey(above)) ? [above] : null;
          return { state: { name: 'pressed', at: input.at, grip, narrowTo }, draft: NO_DRAFT };
        }
        // Where areas overlap, the chosen one is meant, whichever lies above.
        const top =
          hits[0]?.table === 'areas' && !input.add
            ? (hits.find((ref) => chosen.has(refKey(ref))) ?? hits[0])
            : hits[0];
        if (!top) return { state: { name: 'boxing', at: input.at, add: input.add }, draft: NO_DRAFT };
        const already = chosen.has(refKey(top));
        if (input.add) {
          const next = already ? selection.filter((ref) => refKey(ref) !== refKey(top)) : [...selection, top];
          return rest({ state: REST, select: next });
        }
        if (!context.mayEdit) return rest({ state: REST, select: [top] });
        // Pressing inside an area that is not chosen yet starts a box, lest a bed is dragged by accident.
        if (top.table === 'areas' && !already) {
          return { state: { name: 'pressed', at: input.at, grip: null, narrowTo: [top] }, draft: NO_DRAFT };
        }
        const refs = already ? selection : [top];
        return {
          state: {
            name: 'pressed',
            at: input.at,
            grip: { kind: 'records', refs },
            narrowTo: already ? [top] : null,
          },
          draft: NO_DRAFT,
          ...(already ? {} : { select: refs }),
        };
      }
      case 'move': {
        if (state.name === 'pressed') {
          if (distance(state.at, input.at) < context.toleranceM / 2) return { state, draft: NO_DRAFT };
          if (!state.grip) return { state: { name: 'boxing', at: state.at, add: false }, draft: NO_DRAFT };
          const next: Selecting = { name: 'dragging', at: state.at, grip: state.grip };
          const { edit, snap } = dragEdit(state.grip, state.at, input.at, context);
          return { state: next, draft: { ...NO_DRAFT, edit, snap } };
        }
        if (state.name === 'dragging') {
          const { edit, snap } = dragEdit(state.grip, state.at, input.at, context);
          return { state, draft: { ...NO_DRAFT, edit, snap } };
        }
        if (state.name === 'boxing') {
          const [x0, y0] = state.at;
          const [x1, y1] = input.at;
          const points: Point[] = [
            [x0, y0],
            [x1, y0],
            [x1, y1],
            [x0, y1],
          ];
          return { state, draft: { ...NO_DRAFT, lines: [{ points, closed: true, guide: true }] } };
        }
        return { state, draft: NO_DRAFT };
      }
      case 'up': {
        if (state.name === 'dragging') {
          const { edit } = dragEdit(state.grip, state.at, input.at, context);
          return { state: REST, draft: NO_DRAFT, keep: edit };
        }
        if (state.name === 'boxing') {
          const [x0, y0] = state.at;
          const [x1, y1] = input.at;
          const box = {
            minX: Math.min(x0, x1),
            minY: Math.min(y0, y1),
            maxX: Math.max(x0, x1),
            maxY: Math.max(y0, y1),
          };
          const found = pickInBox(plan, box).filter(context.mayTouch);
          return { state: REST, draft: NO_DRAFT, select: state.add ? [...selection, ...found] : found };
        }
        if (state.name === 'pressed') {
          // The ends of an old pipe cannot be deleted, so Delete is for the pipe.
          const vertex = state.grip?.kind === 'vertex' && !isPipeGrip(state.grip) ? state.grip.ref : null;
          return {
            state: { name: 'rest', vertex },
            draft: NO_DRAFT,
            ...(state.narrowTo ? { select: state.narrowTo } : {}),
          };
        }
        return rest();
      }
      case 'double': {
        if (!context.mayEdit) return rest();
        const edge = gripAt(context, input.at)?.kind === 'vertex' ? null : edgeAt(context, input.at);
        return edge ? rest({ state: REST, keep: insertVertex('Insert corner', edge.ref, edge.at) }) : rest();
      }
      case 'back': {
        if (!context.mayEdit) {
          return rest(
            selection.length ? { say: 'This view only looks. Change the plan in Survey or Lay out.' } : {},
          );
        }
        if (state.name === 'rest' && state.vertex) {
          const points = ringOf(plan, state.vertex);
          if (points && points.length > FEWEST[state.vertex.table]) {
            return { state: REST, draft: NO_DRAFT, keep: deleteVertex('Delete corner', state.vertex) };
          }
          return rest({
            state: REST,
            say: 'This shape needs all the corners that it has. Press Delete again to delete it whole.',
          });
        }
        return selection.length
          ? rest({
              state: REST,
              keep: remove('Delete', selection),
              select: [],
              say: deletedSaid(selection),
            })
          : rest();
      }
      case 'escape':
        return state.name === 'rest' ? rest({ state: REST, select: [] }) : rest();
      case 'enter':
      case 'typed':
        return rest();
    }
  },
};
