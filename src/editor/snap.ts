import { nearestOnSegment } from '../base/polyline.ts';
import { directionDeg, distance, type Point } from '../base/point.ts';
import { memo } from '../base/memo.ts';
import type { Plan } from '../plan/records.ts';

/** Places and edges that the pointer may catch on. */
export interface SnapTargets {
  readonly points: readonly Point[];
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
    const edges: [Point, Point][] = [];
    for (const area of areas) {
      for (const ring of [area.outline, ...area.holes]) {
        points.push(...ring);
        edges.push(...edgesOf(ring, true));
      }
    }
    for (const run of runs) {
      points.push(...run.path);
      edges.push(...edgesOf(run.path, false));
    }
    for (const pipe of laterals) {
      points.push(pipe.a, pipe.b);
      edges.push([pipe.a, pipe.b]);
    }
    for (const table of [heads, controls, supplies]) for (const { at } of table) points.push(at);
    return { points, edges };
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
  /** Places that must not be caught, e.g. where the dragged vertex was. */
  readonly except?: readonly Point[] | undefined;
}

export interface Snap {
  readonly at: Point;
  readonly kind: 'free' | 'vertex' | 'edge' | 'square';
  /** Line along which the place was caught, to be shown. */
  readonly guide: readonly [Point, Point] | null;
}

const same = (a: Point, b: Point) => distance(a, b) < 1e-6;

/** Directions (degrees) that count as square to what is drawn: the axes and the last edge's. */
function squareDirections(request: SnapRequest): number[] {
  const directions = [0, 90];
  if (request.before && request.from && !same(request.before, request.from)) {
    const base = directionDeg(request.before, request.from);
    directions.push(base, base + 90);
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

/**
 * Moves the pointer's place on to what it is near, in this order: a vertex, an edge on a right angle, a right
 * angle, an edge. Everything is measured in metres against `toleranceM`.
 */
export function snapPoint(targets: SnapTargets, raw: Point, request: SnapRequest): Snap {
  const { toleranceM, from, extra = [], except = [] } = request;
  const allowed = (p: Point) => !except.some((q) => same(p, q));

  let best: Point | null = null;
  let bestDistance = toleranceM;
  for (const list of [extra, targets.points]) {
    for (const p of list) {
      const d = distance(raw, p);
      if (d < bestDistance && allowed(p)) {
        best = p;
        bestDistance = d;
      }
    }
  }
  if (best) return { at: best, kind: 'vertex', guide: null };

  const nearEdges = targets.edges.filter(([a, b]) => {
    const near = nearestOnSegment(a, b, raw);
    return near.distance <= toleranceM && allowed(a) && allowed(b);
  });

  if (from) {
    let foot: Point | null = null;
    let footDeg = 0;
    let footDistance = toleranceM;
    for (const deg of squareDirections(request)) {
      const p = footOnLine(raw, from, deg);
      const d = distance(raw, p);
      if (d < footDistance && !same(p, from)) {
        foot = p;
        footDeg = deg;
        footDistance = d;
      }
    }
    if (foot) {
      for (const edge of nearEdges) {
        const met = lineMeetsEdge(from, footDeg, edge);
        if (met && distance(met, raw) <= toleranceM * 1.5)
          return { at: met, kind: 'square', guide: [from, met] };
      }
      return { at: foot, kind: 'square', guide: [from, foot] };
    }
  }

  let edgePoint: Point | null = null;
  let edgeDistance = Infinity;
  for (const [a, b] of nearEdges) {
    const near = nearestOnSegment(a, b, raw);
    if (near.distance < edgeDistance) {
      edgePoint = near.point;
      edgeDistance = near.distance;
    }
  }
  return edgePoint ? { at: edgePoint, kind: 'edge', guide: null } : { at: raw, kind: 'free', guide: null };
}
