import { Delaunay } from 'd3-delaunay';
import type { Region } from '../../base/clip.ts';
import { between, distance, type Path, type Point } from '../../base/point.ts';
import { ringLength } from '../../base/polygon.ts';
import { cutterOf } from './cut-line.ts';
import { straightened } from './ring-walk.ts';

/** At most so many places of the edge are looked at. */
const MOST_PLACES = 3000;
/**
 * The edge is met on two sides that lie apart by at least this share of the distance to it: 2 is straight across, 1.41
 * is the bisector of a right corner, which is no middle.
 */
const ACROSS = 1.6;

/**
 * Lines along the middle of ground, where its edge is at least so far away: the places that are as near to the edge on
 * one side as on the other, between edges that lie across from each other (Voronoi diagram of places on the edge). The
 * longest line first; branches begin on one before them.
 * @param widthM width of the ground, metres, which sets how finely the edge is looked at
 */
export function middleLines(region: Region, widthM: number, clearM: number, leastLengthM: number): Path[] {
  const around = region.reduce((sum, ring) => sum + ringLength(ring), 0);
  const stepM = Math.max(widthM / 5, around / MOST_PLACES, 0.002);
  const places: Point[] = [];
  for (const ring of region)
    ring.forEach((a, i) => {
      const b = ring[(i + 1) % ring.length]!;
      const steps = Math.max(1, Math.ceil(distance(a, b) / stepM));
      for (let k = 0; k < steps; k++) places.push(between(a, b, k / steps));
    });
  const origin = places[0];
  if (!origin || places.length < 4) return [];
  // Counted from a place nearby, so that plans far from the origin keep their digits.
  const local = (p: Point): Point => [p[0] - origin[0], p[1] - origin[1]];
  const { triangles, halfedges, points } = new Delaunay(places.flatMap(local));
  const site = (k: number): Point => [points[2 * k]!, points[2 * k + 1]!];
  const cutter = cutterOf(region.map((ring) => ring.map(local)));
  const count = triangles.length / 3;
  const centres: (Point | null)[] = Array.from({ length: count }, (_, t) => {
    const centre = circumcentre(
      site(triangles[3 * t]!),
      site(triangles[3 * t + 1]!),
      site(triangles[3 * t + 2]!),
    );
    if (!centre || distance(centre, site(triangles[3 * t]!)) < clearM) return null;
    return cutter.contains(centre) ? centre : null;
  });
  const ways = new Map<number, number[]>();
  for (let e = 0; e < halfedges.length; e++) {
    const twin = halfedges[e]!;
    if (twin < e) continue;
    const [s, t] = [Math.floor(e / 3), Math.floor(twin / 3)];
    const [a, b] = [centres[s], centres[t]];
    if (!a || !b) continue;
    const [p, q] = [site(triangles[e]!), site(triangles[e % 3 === 2 ? e - 2 : e + 1]!)];
    if (distance(p, q) < ACROSS * Math.min(distance(a, p), distance(b, p))) continue;
    link(ways, s, t);
    link(ways, t, s);
  }
  const back = ([x, y]: Point): Point => [x + origin[0], y + origin[1]];
  return longestPaths(ways, (s, t) => distance(centres[s]!, centres[t]!), leastLengthM).map((path) =>
    straightened(path.map((t) => back(centres[t]!))),
  );
}

function link(ways: Map<number, number[]>, from: number, to: number): void {
  const list = ways.get(from);
  if (list) list.push(to);
  else ways.set(from, [to]);
}

function circumcentre(a: Point, b: Point, c: Point): Point | null {
  const [bx, by] = [b[0] - a[0], b[1] - a[1]];
  const [cx, cy] = [c[0] - a[0], c[1] - a[1]];
  const d = 2 * (bx * cy - by * cx);
  if (Math.abs(d) < 1e-15) return null;
  const [bb, cc] = [bx * bx + by * by, cx * cx + cy * cy];
  return [a[0] + (cy * bb - by * cc) / d, a[1] + (bx * cc - cx * bb) / d];
}

/** The graph cut into paths, the longest shortest way of each part first; what is left over branches from it. */
function longestPaths(
  ways: ReadonlyMap<number, readonly number[]>,
  length: (a: number, b: number) => number,
  leastM: number,
): number[][] {
  const used = new Set<number>();
  const paths: number[][] = [];
  // Two passes find the longest way in a tree; loops round holes are closed by the branches after it.
  const farthest = (from: number): { readonly path: number[]; readonly lengthM: number } => {
    const reach = new Map<number, number>([[from, 0]]);
    const before = new Map<number, number>();
    const queue = [from];
    let far = from;
    while (queue.length > 0) {
      let pick = 0;
      for (let k = 1; k < queue.length; k++) if (reach.get(queue[k]!)! < reach.get(queue[pick]!)!) pick = k;
      const at = queue.splice(pick, 1)[0]!;
      if (reach.get(at)! > reach.get(far)!) far = at;
      // A branch starts on a line that is there already and never runs along one.
      if (at !== from && used.has(at)) continue;
      for (const to of ways.get(at) ?? []) {
        const through = reach.get(at)! + length(at, to);
        if (at === from && used.has(from) && used.has(to)) continue;
        if (through >= (reach.get(to) ?? Infinity) - 1e-12) continue;
        if (!reach.has(to)) queue.push(to);
        reach.set(to, through);
        before.set(to, at);
      }
    }
    const path = [far];
    for (let at = far; at !== from;) path.push((at = before.get(at)!));
    return { path: path.toReversed(), lengthM: reach.get(far)! };
  };
  const parts = new Set(ways.keys());
  while (parts.size > 0) {
    const [seed] = parts;
    const first = farthest(seed!);
    const main = farthest(first.path.at(-1)!);
    for (const at of reachable(ways, seed!)) parts.delete(at);
    if (main.lengthM < leastM || main.path.length < 2) continue;
    const own = [main.path];
    paths.push(main.path);
    main.path.forEach((at) => used.add(at));
    for (let k = 0; k < own.length && paths.length < 500; k++) {
      for (const at of own[k]!) {
        const branch = farthest(at);
        if (branch.lengthM < leastM || branch.path.length < 2) continue;
        own.push(branch.path);
        paths.push(branch.path);
        branch.path.forEach((one) => used.add(one));
      }
    }
  }
  return paths;
}

function reachable(ways: ReadonlyMap<number, readonly number[]>, from: number): ReadonlySet<number> {
  const found = new Set([from]);
  for (const at of found) for (const to of ways.get(at) ?? []) found.add(to);
  return found;
}
