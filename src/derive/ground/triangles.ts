import { Delaunay } from 'd3-delaunay';
import type { Spot } from './spots.ts';

/** Three spot indices, counter-clockwise. */
export type Triangle = readonly [number, number, number];

/** Four spots closer than this to one circle (of a size 1) may be cut either way. */
const ON_ONE_CIRCLE = 1e-9;
/** Flatter than this a triangle is only rounding between spots on one line. */
const NO_AREA = 1e-9;

/**
 * Delaunay triangles of the spots. Where several spots lie on one circle (the corners of a survey grid, a ring of
 * levels) the triangulation has a free choice, which rounding would settle by chance: there the cuts go out from
 * the lowest spot, so that moving or turning the plan never changes the ground.
 */
export function triangulate(spots: readonly Spot[]): Triangle[] {
  const flat = new Float64Array(spots.length * 2);
  spots.forEach((spot, i) => {
    flat[2 * i] = spot.x;
    flat[2 * i + 1] = spot.y;
  });
  const { triangles, halfedges } = new Delaunay(flat);
  const found: Triangle[] = [];
  for (let i = 0; i < triangles.length; i += 3) {
    found.push(counterClockwise(spots, [triangles[i]!, triangles[i + 1]!, triangles[i + 2]!]));
  }
  return settleTies(spots, found, halfedges).filter(
    (t) => area2(spots, t) > NO_AREA * longestSquared(spots, t),
  );
}

function counterClockwise(spots: readonly Spot[], t: Triangle): Triangle {
  return area2(spots, t) < 0 ? [t[0], t[2], t[1]] : t;
}

/** Twice the area of a triangle, positive when counter-clockwise. */
export function area2(spots: readonly Spot[], [a, b, c]: Triangle): number {
  const p = spots[a]!;
  const q = spots[b]!;
  const r = spots[c]!;
  return (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
}

function longestSquared(spots: readonly Spot[], t: Triangle): number {
  const squares = t.map((v, k) => {
    const p = spots[v]!;
    const q = spots[t[(k + 1) % 3]!]!;
    return (p.x - q.x) ** 2 + (p.y - q.y) ** 2;
  });
  return Math.max(...squares);
}

function settleTies(spots: readonly Spot[], triangles: Triangle[], halfedges: Int32Array): Triangle[] {
  const group = triangles.map((_, i) => i);
  const rootOf = (i: number): number => {
    let root = i;
    while (group[root] !== root) root = group[root]!;
    group[i] = root;
    return root;
  };
  let ties = 0;
  for (let edge = 0; edge < halfedges.length; edge++) {
    const twin = halfedges[edge]!;
    if (twin < edge) continue;
    const one = Math.floor(edge / 3);
    const other = Math.floor(twin / 3);
    const apex = triangles[other]!.find((v) => !triangles[one]!.includes(v));
    if (apex === undefined || !onOneCircle(spots, triangles[one]!, apex)) continue;
    group[rootOf(one)] = rootOf(other);
    ties += 1;
  }
  if (ties === 0) return triangles;
  const members = new Map<number, Triangle[]>();
  triangles.forEach((t, i) => {
    const root = rootOf(i);
    const list = members.get(root);
    if (list) list.push(t);
    else members.set(root, [t]);
  });
  return [...members.values()].flatMap((list) => (list.length === 1 ? list : fan(spots, list)));
}

/** In-circle determinant of three spots and a fourth, made free of size. */
function onOneCircle(spots: readonly Spot[], t: Triangle, apex: number): boolean {
  const d = spots[apex]!;
  const [a, b, c] = t.map((i) => [spots[i]!.x - d.x, spots[i]!.y - d.y] as const);
  const size = Math.max(...[a!, b!, c!].map(([x, y]) => Math.hypot(x, y)));
  if (size === 0) return false;
  const rows = [a!, b!, c!].map(([x, y]) => [x / size, y / size, (x * x + y * y) / (size * size)] as const);
  const [r, s, u] = rows as [Row, Row, Row];
  const value =
    r[0] * (s[1] * u[2] - s[2] * u[1]) -
    r[1] * (s[0] * u[2] - s[2] * u[0]) +
    r[2] * (s[0] * u[1] - s[1] * u[0]);
  return Math.abs(value) < ON_ONE_CIRCLE;
}
type Row = readonly [number, number, number];

/** Cuts the union of triangles anew, from its lowest spot; keeps them where that is not possible. */
function fan(spots: readonly Spot[], list: readonly Triangle[]): readonly Triangle[] {
  const next = new Map<number, number>();
  const inner = new Set<string>();
  for (const [a, b, c] of list) {
    for (const [from, to] of [
      [a, b],
      [b, c],
      [c, a],
    ] as const) {
      inner.add(`${from},${to}`);
    }
  }
  for (const key of inner) {
    const [from, to] = key.split(',').map(Number) as [number, number];
    if (!inner.has(`${to},${from}`)) next.set(from, to);
  }
  if (next.size !== list.length + 2) return list;
  const apex = [...next.keys()].reduce((best, v) => {
    const dz = spots[v]!.zM - spots[best]!.zM;
    return dz < 0 || (dz === 0 && v < best) ? v : best;
  });
  const cut: Triangle[] = [];
  for (let v = next.get(apex)!; next.get(v) !== apex; v = next.get(v)!) {
    const t: Triangle = [apex, v, next.get(v)!];
    if (cut.length > list.length || area2(spots, t) <= 0) return list;
    cut.push(t);
  }
  return cut.length === list.length ? cut : list;
}
