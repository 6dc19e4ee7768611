import { distance, type Path, type Point } from '../../base/point.ts';
import { nearestOnPath, pathLength, pointAlong, type NearestOnPath } from '../../base/polyline.ts';
import { contourThroughPlan } from '../../derive/ground/contour-through.ts';
import type { Draft, ToolContext } from './tool.ts';

/** A contour line is caught from a little farther off than a corner: one wants to stay on it. */
const REACH = 2;

/** The arm of the contour line through `from` that passes nearest to a place; null where none passes there. */
function armTowards(
  context: ToolContext,
  from: Point,
  to: Point,
): { readonly arm: Path; readonly near: NearestOnPath } | null {
  let best: { arm: Path; near: NearestOnPath } | null = null;
  for (const arm of contourThroughPlan(context.plan, from) ?? []) {
    if (arm.length < 2) continue;
    const near = nearestOnPath(arm, to);
    if (!best || near.distance < best.near.distance) best = { arm, near };
  }
  return best;
}

/** The way along an arm to a distance from its start, the start left out. */
function wayAlong(arm: Path, alongM: number): Point[] {
  const way: Point[] = [];
  let before = 0;
  for (let i = 1; i < arm.length; i++) {
    const step = distance(arm[i - 1]!, arm[i]!);
    if (before + step >= alongM - 1e-9) break;
    before += step;
    way.push(arm[i]!);
  }
  const end = pointAlong(arm, alongM);
  const last = way.at(-1);
  if (last && distance(last, end) < 1e-6) way.pop();
  return [...way, end];
}

/** The same context, in which the pointer catches on the contour line through the last vertex as well. */
export function onContour(context: ToolContext): ToolContext {
  if (!context.choices.followContour || context.snapOff) return context;
  return {
    ...context,
    snap: (raw, request = {}) => {
      const snap = context.snap(raw, request);
      // What is to be joined comes first; the contour goes before right angles and edges.
      if (!request.from || (snap.kind === 'vertex' && snap.reason !== 'middle')) return snap;
      const found = armTowards(context, request.from, raw);
      if (!found || found.near.distance > REACH * context.toleranceM) return snap;
      const { arm, near } = found;
      if (near.along < 1e-6) return snap;
      return {
        at: near.point,
        kind: 'contour',
        guide: null,
        reason: 'contour',
        way: wayAlong(arm, near.along),
      };
    },
  };
}

/** The way of a typed length along the contour, where the pointer is on it; null where it is not, or too short. */
export function contourWay(
  context: ToolContext,
  from: Point,
  towards: Point,
  lengthM: number,
): readonly Point[] | null {
  if (!context.choices.followContour || context.snapOff) return null;
  const found = armTowards(context, from, towards);
  if (!found || found.near.distance > REACH * context.toleranceM || found.near.along < 1e-6) return null;
  return lengthM <= pathLength(found.arm) ? wayAlong(found.arm, lengthM) : null;
}

/** A draft with the contour line through the last vertex as a guide. */
export function withContourGuide(draft: Draft, context: ToolContext): Draft {
  const from = draft.piece?.from;
  if (!from || !context.choices.followContour || context.snapOff) return draft;
  const arms = contourThroughPlan(context.plan, from);
  if (!arms) return draft;
  const guides = arms
    .filter((arm) => arm.length > 1)
    .map((points) => ({ points, closed: false, guide: true }));
  return { ...draft, lines: [...draft.lines, ...guides] };
}
