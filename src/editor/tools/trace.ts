import { directionDeg, distance, polar, type Point } from '../../base/point.ts';
import { pathLength } from '../../base/polyline.ts';
import type { Snap } from '../snap.ts';
import { NO_DRAFT, type Draft, type Step, type ToolContext, type ToolInput } from './tool.ts';

/** Vertices set so far and where the pointer is; shared by all tools that draw a chain of straight pieces. */
export interface Trace {
  readonly name: 'tracing';
  readonly points: readonly Point[];
  readonly pointer: Point | null;
  /** Stretches of many vertices that were set in one go, by the counts of vertices before and after them. */
  readonly ways?: readonly { readonly from: number; readonly to: number }[];
}

export const NO_TRACE: Trace = { name: 'tracing', points: [], pointer: null };

export interface TraceRules {
  /** Fewest vertices of a finished chain. */
  readonly fewest: number;
  /** A ring closes on its first vertex, a path may end there. */
  readonly ring: boolean;
  /** Vertices after which the chain is finished by itself. */
  readonly most?: number;
  /** What to say when the chain is too short to finish. */
  readonly tooShort: string;
  /** The finished chain, without a repeated last vertex for a ring. */
  finish(points: readonly Point[], context: ToolContext): Omit<Step<Trace>, 'state' | 'draft'>;
  /** The way of a typed length from a vertex towards a place, where it is not straight; `from` itself left out. */
  way?(from: Point, towards: Point, lengthM: number): readonly Point[] | null;
}

function snapped(trace: Trace, raw: Point, context: ToolContext): Snap {
  const { points } = trace;
  const drawn = points.slice(0, -1);
  return context.snap(raw, { from: points.at(-1), before: points.at(-2), extra: drawn, drawn });
}

function draftOf(trace: Trace, snap: Snap | null, ring: boolean): Draft {
  const from = trace.points.at(-1);
  if (!from) return { ...NO_DRAFT, snap };
  const to = snap?.at ?? trace.pointer;
  const way = snap?.way;
  // A pen that lies on the last corner draws nothing on from there.
  const isOn = to && !way && distance(from, to) === 0;
  const points = to && !isOn ? [...trace.points, ...(way ?? [to])] : trace.points;
  return {
    edit: null,
    lines: [
      { points, closed: ring && points.length > 2, guide: false },
      ...(snap?.guide ? [{ points: snap.guide, closed: false, guide: true }] : []),
    ],
    dots: trace.points,
    snap,
    piece: to ? { from, to, ...(way && { lengthM: pathLength([from, ...way]) }) } : null,
  };
}

/** What caught a vertex once it is set: the way to it is part of the shape now. */
function set(snap: Snap | null): Snap | null {
  if (!snap?.way) return snap;
  const { way: _, ...rest } = snap;
  return rest;
}

/** Handles one input of a tracing tool by its rules. */
export function trace(state: Trace, input: ToolInput, context: ToolContext, rules: TraceRules): Step<Trace> {
  const stay = (next: Trace, snap: Snap | null = null, say?: string): Step<Trace> => ({
    state: next,
    draft: draftOf(next, snap, rules.ring),
    ...(say ? { say } : {}),
  });
  const finish = (points: readonly Point[]): Step<Trace> =>
    points.length < rules.fewest
      ? stay({ ...state, points }, null, rules.tooShort)
      : { state: NO_TRACE, draft: NO_DRAFT, ...rules.finish(points, context) };
  const place = (at: Point, snap: Snap | null, way: readonly Point[] = [at]): Step<Trace> => {
    const { points } = state;
    const first = points[0];
    const last = points.at(-1);
    if (first && points.length >= Math.max(3, rules.fewest) && distance(first, at) < 1e-6) {
      return finish(rules.ring ? points : [...points, first]);
    }
    if (last && distance(last, at) < 1e-6) return stay(state, snap);
    const next = [...points, ...way];
    if (rules.most && next.length >= rules.most) return finish(next);
    const ways =
      way.length > 1 ? [...(state.ways ?? []), { from: points.length, to: next.length }] : state.ways;
    return stay({ ...state, points: next, pointer: at, ...(ways && { ways }) }, set(snap));
  };

  switch (input.kind) {
    case 'move': {
      const snap = snapped(state, input.at, context);
      return stay({ ...state, pointer: snap.at }, snap);
    }
    case 'down': {
      const snap = snapped(state, input.at, context);
      // The second press of a double click falls on the vertex that the first one set.
      const last = state.points.at(-1);
      if (last && distance(last, input.at) < context.toleranceM / 2) return stay(state, snap);
      return place(snap.at, snap, snap.way);
    }
    case 'typed': {
      const from = state.points.at(-1);
      if (!from) return stay(state, null, 'Set the first point, then type the length of the next piece.');
      const towards = state.pointer && distance(from, state.pointer) > 0 ? state.pointer : polar(from, 1, 0);
      const lengthM = input.lengthM ?? distance(from, towards);
      const way = input.directionDeg === null ? rules.way?.(from, towards, lengthM) : null;
      const to = way?.at(-1) ?? polar(from, lengthM, input.directionDeg ?? directionDeg(from, towards));
      return place(to, { at: to, kind: 'vertex', guide: null, reason: 'typed' }, way ?? [to]);
    }
    case 'double':
    case 'enter':
      return state.points.length ? finish(state.points) : stay(state);
    case 'back': {
      const { points, ways = [] } = state;
      const last = ways.at(-1);
      // A way that was set in one go is taken back in one go.
      return last?.to === points.length
        ? stay({ ...state, points: points.slice(0, last.from), ways: ways.slice(0, -1) })
        : stay({ ...state, points: points.slice(0, -1) });
    }
    case 'escape':
      return state.points.length
        ? { state: NO_TRACE, draft: NO_DRAFT }
        : { state: NO_TRACE, draft: NO_DRAFT, done: true };
    case 'up': {
      // What has two ends may be pulled out as well as pressed twice.
      const first = rules.most === 2 && state.points.length === 1 ? state.points[0]! : null;
      if (!first || distance(first, input.at) <= 2 * context.toleranceM) return stay(state);
      return place(snapped(state, input.at, context).at, null);
    }
  }
}
