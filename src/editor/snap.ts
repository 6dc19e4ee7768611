import { nearestOnSegment } from '../base/polyline.ts';
import { between, directionDeg, distance, type Point } from '../base/point.ts';
import { memo } from '../base/memo.ts';
import type { Plan } from '../plan/records.ts';

/** Places and edges that the pointer may catch on. */
export interface SnapTargets {
  readonly points: readonly Point[];
  /** What each of the points is, in the same order; where it is missing they are corners. */
  readonly reasons?: readonly SnapReason[];
  readonly edges: readonly (readonly [Point, Point])[];
}

/** Tables that hold what can be caught on; a plan has them all. */
export type Snappable = Pick<Plan, 'areas' | 'runs' | 'laterals' | 'heads' | 'controls' | 'supplies'>;

function edgesOf(points: readonly Point[], closed: boolean): [Point, Point][] {
  const edges: [Point, Point][] = [];
  for (let i = 1; i < points.length; i++) edges.push([points[i - 1]!, points[i]!]);
  if (closed && points.length > 2) edges.push([points.at(-1)!, points[0]!]);
  return edges;
}

const collect = memo(
  (
    areas: Plan['areas'],
    runs: Plan['runs'],
    laterals: Plan['laterals'],
    heads: Plan['heads'],
    controls: Plan['controls'],
    supplies: Plan['supplies'],
  ): SnapTargets => {
    const points: Point[] = [];
    const reasons: SnapReason[] = [];
    const edges: [Point, Point][] = [];
    const note = (at: Point, reason: SnapReason): void => {
      points.push(at);
      reasons.push(reason);
    };
    for (const area of areas) {
      for (const ring of [area.outline, ...area.holes]) {
        for (const at of ring) note(at, 'corner');
        edges.push(...edgesOf(ring, true));
      }
    }
    for (const { path } of runs) {
      path.forEach((at, i) => note(at, i === 0 || i === path.length - 1 ? 'end' : 'corner'));
      edges.push(...edgesOf(path, false));
    }
    for (const pipe of laterals) {
      note(pipe.a, 'end');
      note(pipe.b, 'end');
      edges.push([pipe.a, pipe.b]);
    }
    for (const table of [heads, controls, supplies]) for (const { at } of table) note(at, 'place');
    return { points, reasons, edges };
  },
);

/** All that the pointer may catch on in a plan; remembered while its tables stay. */
export function snapTargets(plan: Snappable): SnapTargets {
  return collect(plan.areas, plan.runs, plan.laterals, plan.heads, plan.controls, plan.supplies);
}

export interface SnapRequest {
  readonly toleranceM: number;
  /** Vertex that the new one will be joined to; right angles are measured there. */
  readonly from?: Point | undefined;
  /** Vertex before `from`; gives the direction that right angles refer to. */
  readonly before?: Point | undefined;
  /** Further places to catch on, e.g. the vertices drawn so far. */
  readonly extra?: readonly Point[] | undefined;
  /** Those of them that are vertices of the shape under way, to stay in line with. */
  readonly drawn?: readonly Point[] | undefined;
  /** Places that must not be caught, e.g. where the dragged vertex was. */
  readonly except?: readonly Point[] | undefined;
}

export interface Snap {
  readonly at: Point;
  readonly kind: 'free' | 'vertex' | 'edge' | 'square' | 'contour';
  /** Line along which the place was caught, to be shown. */
  readonly guide: readonly [Point, Point] | null;
  /** Why it was caught there, where that can be told. */
  readonly reason?: SnapReason;
  /** The way from the vertex before to the place, that vertex left out, where it is not straight. */
  readonly way?: readonly Point[];
}

/** Why the pointer was caught. `drawn` is a vertex of the shape under way, `in line` lies square to one of them. */
export type SnapReason =
  | 'corner'
  | 'end'
  | 'place'
  | 'drawn'
  | 'middle'
  | 'edge'
  | 'level'
  | 'upright'
  | 'straight on'
  | 'square'
  | 'in line'
  | 'contour'
  | 'typed';

const same = (a: Point, b: Point) => distance(a, b) < 1e-6;

/** Directions (degrees) that count as square to what is drawn: the axes and the last edge's. */
function squareDirections(request: SnapRequest): { readonly deg: number; readonly reason: SnapReason }[] {
  const directions: { deg: number; reason: SnapReason }[] = [
    { deg: 0, reason: 'level' },
    { deg: 90, reason: 'upright' },
  ];
  if (request.before && request.from && !same(request.before, request.from)) {
    const base = directionDeg(request.before, request.from);
    directions.push({ deg: base, reason: 'straight on' }, { deg: base + 90, reason: 'square' });
  }
  return directions;
}

/** Foot of `p` on the line through `origin` in direction `deg`. */
function footOnLine(p: Point, origin: Point, deg: number): Point {
  const c = Math.cos((deg * Math.PI) / 180);
  const s = Math.sin((deg * Math.PI) / 180);
  const t = (p[0] - origin[0]) * c + (p[1] - origin[1]) * s;
  return [origin[0] + t * c, origin[1] + t * s];
}

/** Where the line through `origin` in direction `deg` meets an edge; `null` if it does not. */
function lineMeetsEdge(origin: Point, deg: number, [a, b]: readonly [Point, Point]): Point | null {
  const dx = Math.cos((deg * Math.PI) / 180);
  const dy = Math.sin((deg * Math.PI) / 180);
  const ex = b[0] - a[0];
  const ey = b[1] - a[1];
  const cross = dx * ey - dy * ex;
  if (Math.abs(cross) < 1e-12) return null;
  const t = ((origin[0] - a[0]) * dy - (origin[1] - a[1]) * dx) / -cross;
  return t >= 0 && t <= 1 ? [a[0] + t * ex, a[1] + t * ey] : null;
}

/** The nearest place of lists within the tolerance, the first of several that are as near. */
function nearestPlace(
  lists: readonly { readonly points: readonly Point[]; readonly reason: (i: number) => SnapReason }[],
  raw: Point,
  toleranceM: number,
  allowed: (p: Point) => boolean,
): Snap | null {
  let best: Snap | null = null;
  let bestDistance = toleranceM;
  for (const { points, reason } of lists) {
    points.forEach((p, i) => {
      const d = distance(raw, p);
      if (d < bestDistance && allowed(p)) {
        best = { at: p, kind: 'vertex', guide: null, reason: reason(i) };
        bestDistance = d;
      }
    });
  }
  return best;
}

/** A middle is caught from nearer than a corner, lest its edge can be had no longer near it. */
const MIDDLE_REACH = 0.5;

/**
 * Square to the vertex before: where that line meets the line through a drawn vertex square to it, where it meets an
 * edge, or anywhere on it.
 */
function squareSnap(
  raw: Point,
  from: Point,
  request: SnapRequest,
  nearEdges: readonly (readonly [Point, Point])[],
): Snap | null {
  const { toleranceM, drawn = [], except = [] } = request;
  let best: { foot: Point; deg: number; reason: SnapReason; far: number } | null = null;
  for (const { deg, reason } of squareDirections(request)) {
    const foot = footOnLine(raw, from, deg);
    const far = distance(raw, foot);
    if (far < (best?.far ?? toleranceM) && !same(foot, from)) best = { foot, deg, reason, far };
  }
  if (!best) return null;
  const { foot, deg, reason } = best;
  const caught = (at: Point, why: SnapReason): Snap => ({
    at,
    kind: 'square',
    guide: [from, at],
    reason: why,
  });
  for (const edge of nearEdges) {
    const met = lineMeetsEdge(from, deg, edge);
    if (met && distance(met, raw) <= toleranceM * 1.5) return caught(met, reason);
  }
  // The fourth corner of a rectangle: in line with the first one.
  for (const p of drawn) {
    const beside = footOnLine(p, from, deg);
    if (distance(beside, raw) <= toleranceM && !same(beside, from) && !except.some((q) => same(q, p)))
      return caught(beside, 'in line');
  }
  return caught(foot, reason);
}

/** Level or upright from one of the vertices drawn before, where nothing else is near. */
function inLineSnap(raw: Point, { toleranceM, drawn = [] }: SnapRequest): Snap | null {
  let best: Snap | null = null;
  let nearest = toleranceM * MIDDLE_REACH;
  for (const p of drawn) {
    for (const at of [
      [raw[0], p[1]],
      [p[0], raw[1]],
    ] as const) {
      const far = distance(raw, at);
      if (far >= nearest || same(at, p)) continue;
      nearest = far;
      best = { at, kind: 'square', guide: [p, at], reason: 'in line' };
    }
  }
  return best;
}

/**
 * Moves the pointer's place on to what it is near, in this order: a vertex, the middle of an edge, an edge on a right
 * angle, a right angle, an edge, a place in line with what is drawn. Everything is measured in metres against
 * `toleranceM`.
 */
export function snapPoint(targets: SnapTargets, raw: Point, request: SnapRequest): Snap {
  const { toleranceM, from, extra = [], drawn = [], except = [] } = request;
  const allowed = (p: Point) => !except.some((q) => same(p, q));
  const vertex = nearestPlace(
    [
      { points: extra, reason: (i) => (drawn.includes(extra[i]!) ? 'drawn' : 'place') },
      { points: targets.points, reason: (i) => targets.reasons?.[i] ?? 'corner' },
    ],
    raw,
    toleranceM,
    allowed,
  );
  if (vertex) return vertex;

  const nearEdges = targets.edges.filter(([a, b]) => {
    const near = nearestOnSegment(a, b, raw);
    return near.distance <= toleranceM && allowed(a) && allowed(b);
  });
  const middles = nearEdges.map(([a, b]) => between(a, b, 0.5));
  const middle = nearestPlace(
    [{ points: middles, reason: () => 'middle' }],
    raw,
    toleranceM * MIDDLE_REACH,
    allowed,
  );
  if (middle) return middle;

  const square = from ? squareSnap(raw, from, request, nearEdges) : null;
  if (square) return square;

  let edge: Snap | null = null;
  let edgeDistance = Infinity;
  for (const [a, b] of nearEdges) {
    const near = nearestOnSegment(a, b, raw);
    if (near.distance < edgeDistance) {
      edge = { at: near.point, kind: 'edge', guide: null, reason: 'edge' };
      edgeDistance = near.distance;
    }
  }
  return edge ?? (from && inLineSnap(raw, request)) ?? { at: raw, kind: 'free', guide: null };
}
