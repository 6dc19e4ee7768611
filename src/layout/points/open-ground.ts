import Flatbush from 'flatbush';
import { difference, inset, regionOf, union, type Region } from '../../base/clip.ts';
import { memo } from '../../base/memo.ts';
import { between, distance, type Path, type Point } from '../../base/point.ts';
import { crossingShares, nearestOnSegment } from '../../base/polyline.ts';
import { surfacesOf } from '../../derive/existing/coverage/surfaces.ts';
import type { Plan } from '../../plan/records.ts';
import { kindCells } from './kind-cells.ts';

/** What tubing meets on the ground, from the best to the worst. */
export const GROUND = { bed: 0, edge: 1, open: 2, paving: 3, blocked: 4 } as const;
export type GroundKind = (typeof GROUND)[keyof typeof GROUND];

/** Metres of bed that one metre is worth, by kind: a detour is taken up to that length. */
const WORTH: readonly number[] = [1, 1.5, 3, 40, 400];
/** Tubing keeps this far inside of the bed's edge where there is room, metres. */
const EDGE_M = 0.1;

/** A part of a straight line on ground of one kind; shares of its way. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly kind: GroundKind;
}

/** The ground by what tubing may do on it. */
export interface OpenGround {
  kindAt(p: Point): GroundKind;
  /** A straight line by what it lies on, from `a` to `b` without a gap. */
  stretches(a: Point, b: Point): readonly Stretch[];
  /** The worst kind on a straight line; touching an edge does not count. */
  worst(a: Point, b: Point): GroundKind;
  /** Whether a straight line passes an edge of paving, of a building or of what is left out of a bed. */
  crossesHard(a: Point, b: Point): boolean;
  /** Length of a straight line in metres of bed. */
  worth(a: Point, b: Point): number;
  /** What a metre about a place is worth, metres of bed. */
  perMetre(p: Point): number;
  /** Whether a line between two kinds of ground passes within a distance of a place, metres. */
  edgeWithin(p: Point, reachM: number): boolean;
  /** Whether paving, building or what is left out lies within a distance, metres. */
  hardWithin(p: Point, reachM: number): boolean;
  /** Whether there is any edge at all. */
  readonly isPlain: boolean;
}

/**
 * What the ground is to tubing: bed, its edge, open ground (lawn and what is not drawn), paving, and what is blocked:
 * buildings and holes of beds that are nothing else. Remembered while the areas are the same.
 */
export const openGround = memo((areas: Plan['areas']): OpenGround => {
  const { bed, lawn, paving, building } = surfacesOf({ areas });
  const holes = [...areas]
    .filter(({ use }) => use === 'bed')
    .flatMap((area) => area.holes.map((hole) => regionOf(hole)));
  const leftOut = difference(union(holes), union([bed, lawn, paving, building]));
  const blocked = union([building, leftOut]);
  const inner = inset(bed, EDGE_M);
  const edges: { readonly a: Point; readonly b: Point; readonly hard: boolean }[] = [];
  const note = (region: Region, hard: boolean): void => {
    for (const ring of region)
      ring.forEach((a, i) => edges.push({ a, b: ring[(i + 1) % ring.length]!, hard }));
  };
  note(blocked, true);
  note(paving, true);
  note(bed, false);
  note(inner, false);
  const index = indexOf(edges);
  const hardEdges = edges.filter(({ hard }) => hard);
  const hardIndex = indexOf(hardEdges);

  const inBlocked = insideOf(blocked);
  const inPaving = insideOf(paving);
  const inInner = insideOf(inner);
  const inBed = insideOf(bed);
  const kindAt = kindCells(edges, (p: Point): GroundKind => {
    if (inBlocked(p)) return GROUND.blocked;
    if (inPaving(p)) return GROUND.paving;
    if (inInner(p)) return GROUND.bed;
    return inBed(p) ? GROUND.edge : GROUND.open;
  });
  /** Shares of a straight line at which it passes an edge, in order. */
  const cutsOf = (a: Point, b: Point): number[] => {
    if (!index) return [];
    const cuts: number[] = [];
    const [minX, maxX] = a[0] < b[0] ? [a[0], b[0]] : [b[0], a[0]];
    const [minY, maxY] = a[1] < b[1] ? [a[1], b[1]] : [b[1], a[1]];
    for (const i of index.search(minX, minY, maxX, maxY)) {
      for (const t of crossingShares(a, b, edges[i]!.a, edges[i]!.b)) cuts.push(t);
    }
    return cuts.length > 1 ? cuts.sort((p, q) => p - q) : cuts;
  };
  const stretches = (a: Point, b: Point): Stretch[] => {
    const cuts = cutsOf(a, b);
    const found: Stretch[] = [];
    let from = 0;
    for (const to of [...cuts, 1]) {
      if (to - from < 1e-9 && to < 1) continue;
      const kind = kindAt(between(a, b, (from + to) / 2));
      const last = found.at(-1);
      if (last && last.kind === kind) found[found.length - 1] = { ...last, to };
      else found.push({ from, to, kind });
      from = to;
    }
    return found;
  };
  const near = (p: Point, reachM: number, only: (hard: boolean) => boolean): boolean =>
    index !== null &&
    index
      .search(p[0] - reachM, p[1] - reachM, p[0] + reachM, p[1] + reachM)
      .some((i) => only(edges[i]!.hard) && nearestOnSegment(edges[i]!.a, edges[i]!.b, p).distance <= reachM);
  return {
    kindAt,
    stretches,
    worst(a, b) {
      const length = distance(a, b);
      return stretches(a, b).reduce<GroundKind>(
        (worst, { from, to, kind }) => (kind > worst && (to - from) * length > 1e-6 ? kind : worst),
        GROUND.bed,
      );
    },
    crossesHard: (a, b) =>
      hardIndex !== null &&
      hardIndex
        .search(Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.max(a[0], b[0]), Math.max(a[1], b[1]))
        .some((i) => crossingShares(a, b, hardEdges[i]!.a, hardEdges[i]!.b).length > 0),
    worth(a, b) {
      const length = distance(a, b);
      const cuts = cutsOf(a, b);
      if (cuts.length === 0) return length * WORTH[kindAt(between(a, b, 0.5))]!;
      let sum = 0;
      let from = 0;
      for (let k = 0; k <= cuts.length; k++) {
        const to = k < cuts.length ? cuts[k]! : 1;
        if (to - from < 1e-9 && to < 1) continue;
        sum += (to - from) * WORTH[kindAt(between(a, b, (from + to) / 2))]!;
        from = to;
      }
      return sum * length;
    },
    perMetre: (p) => WORTH[kindAt(p)]!,
    edgeWithin: (p, reachM) => near(p, reachM, () => true),
    hardWithin: (p, reachM) => near(p, reachM, (hard) => hard),
    isPlain: index === null,
  };
});

/** Length of a path in metres of bed. */
export function pathWorth(ground: OpenGround, path: Path): number {
  let sum = 0;
  for (let i = 1; i < path.length; i++) sum += ground.worth(path[i - 1]!, path[i]!);
  return sum;
}

/** Length of a path on ground of one kind, metres. */
export function lengthOn(ground: OpenGround, path: Path, kind: GroundKind): number {
  let sum = 0;
  for (let i = 1; i < path.length; i++) {
    const [a, b] = [path[i - 1]!, path[i]!];
    for (const one of ground.stretches(a, b)) {
      if (one.kind === kind) sum += (one.to - one.from) * distance(a, b);
    }
  }
  return sum;
}

function indexOf(edges: readonly { readonly a: Point; readonly b: Point }[]): Flatbush | null {
  if (edges.length === 0) return null;
  const index = new Flatbush(edges.length);
  for (const { a, b } of edges) {
    index.add(Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.max(a[0], b[0]), Math.max(a[1], b[1]));
  }
  index.finish();
  return index;
}

/** Tells whether a place lies in a region, by the edges that a ray to the east meets (even-odd rule). */
function insideOf(region: Region): (p: Point) => boolean {
  const edges = region.flatMap((ring) => ring.map((a, i) => ({ a, b: ring[(i + 1) % ring.length]! })));
  const index = indexOf(edges);
  if (!index) return () => false;
  return ([x, y]) => {
    let odd = false;
    for (const i of index.search(x, y, Infinity, y)) {
      const { a, b } = edges[i]!;
      if (a[1] > y !== b[1] > y && x < ((b[0] - a[0]) * (y - a[1])) / (b[1] - a[1]) + a[0]) odd = !odd;
    }
    return odd;
  };
}
