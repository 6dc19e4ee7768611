import Flatbush from 'flatbush';
import type { Point } from '../../base/point.ts';
import { boxRing, type Face } from './faces.ts';
import { beyond, type Side } from './outside.ts';
import type { Spot } from './spots.ts';
import type { Height, Surface } from './surface.ts';
import { area2, triangulate, type Triangle } from './triangles.ts';

interface Facet {
  readonly corners: Triangle;
  readonly gradient: Point;
  /** Height over its longest edge as a share of that edge. */
  readonly fatness: number;
}
interface Edge {
  readonly from: number;
  readonly to: number;
  readonly left: number;
  readonly right: number;
}

/** A triangle flatter than this on the rim does not say how the ground goes on beyond it. */
const SLIVER = 0.02;
const SAME_SLOPE = 1e-9;
/** A path through the very end of an edge counts as crossing it: a crease too many does no harm. */
const TOUCH = 1e-6;

/** Ground through levels that span an area: planar between them, carried on without a step beyond them. */
export function meshSurface(all: readonly Spot[]): Surface {
  const shiftX = all.reduce((sum, spot) => sum + spot.x, 0) / all.length;
  const shiftY = all.reduce((sum, spot) => sum + spot.y, 0) / all.length;
  const spots = all.map(({ x, y, zM }) => ({ x: x - shiftX, y: y - shiftY, zM }));
  const size = Math.max(...spots.map(({ x, y }) => Math.hypot(x, y)));
  const facets = triangulate(spots).map((corners) => facetOf(spots, corners));
  const edges = edgesOf(facets);
  const rim = beyond(rimOf(spots, facets, edges));
  const creaseEdges = edges.filter(
    ({ left, right }) => right < 0 || steps(facets[left]!.gradient, facets[right]!.gradient),
  );
  const isPlane = edges.every(
    ({ left, right }) => right < 0 || !steps(facets[left]!.gradient, facets[right]!.gradient),
  );
  const facetIndex = boxIndex(facets.map(({ corners }) => corners.map((v) => spots[v]!)));
  const edgeIndex = boxIndex(creaseEdges.map(({ from, to }) => [spots[from]!, spots[to]!]));

  function facetAt(x: number, y: number): Facet | null {
    const slack = 1e-9 * size;
    for (const i of facetIndex.search(x - slack, y - slack, x + slack, y + slack)) {
      const facet = facets[i]!;
      if (holds(spots, facet.corners, x, y, slack)) return facet;
    }
    return null;
  }
  function heightOn({ corners: [a], gradient }: Facet, x: number, y: number): number {
    const spot = spots[a]!;
    return spot.zM + gradient[0] * (x - spot.x) + gradient[1] * (y - spot.y);
  }

  return {
    heightAt(p): Height {
      const x = p[0] - shiftX;
      const y = p[1] - shiftY;
      const facet = facetAt(x, y);
      if (facet) return { zM: heightOn(facet, x, y), how: 'inside' };
      if (isPlane) return { zM: heightOn(facets[0]!, x, y), how: 'outside' };
      const { zM, distanceM } = rim.at([x, y]);
      return { zM, how: distanceM <= 1e-9 * size ? 'inside' : 'outside' };
    },
    gradientAt(p) {
      const x = p[0] - shiftX;
      const y = p[1] - shiftY;
      return facetAt(x, y)?.gradient ?? (isPlane ? facets[0]!.gradient : rim.at([x, y]).gradient);
    },
    creases(from, to) {
      if (isPlane) return [];
      const a: Point = [from[0] - shiftX, from[1] - shiftY];
      const b: Point = [to[0] - shiftX, to[1] - shiftY];
      const dx = b[0] - a[0];
      const dy = b[1] - a[1];
      const shares: number[] = [];
      const slack = TOUCH * size;
      const near = edgeIndex.search(
        Math.min(a[0], b[0]) - slack,
        Math.min(a[1], b[1]) - slack,
        Math.max(a[0], b[0]) + slack,
        Math.max(a[1], b[1]) + slack,
      );
      for (const i of near) {
        const p = spots[creaseEdges[i]!.from]!;
        const q = spots[creaseEdges[i]!.to]!;
        const ex = q.x - p.x;
        const ey = q.y - p.y;
        const cross = dx * ey - dy * ex;
        if (cross === 0) continue;
        const share = ((p.x - a[0]) * ey - (p.y - a[1]) * ex) / cross;
        const onEdge = ((p.x - a[0]) * dy - (p.y - a[1]) * dx) / cross;
        if (share > 0 && share < 1 && onEdge >= -TOUCH && onEdge <= 1 + TOUCH) shares.push(share);
      }
      if (!facetAt(a[0], a[1]) || !facetAt(b[0], b[1])) shares.push(...rim.creases(a, b));
      return shares;
    },
    faces(box) {
      const inside = facetIndex
        .search(box.minX - shiftX, box.minY - shiftY, box.maxX - shiftX, box.maxY - shiftY)
        .map((i): Face => {
          const { corners, gradient } = facets[i]!;
          return {
            ring: corners.map((v): Point => [all[v]!.x, all[v]!.y]),
            zM: corners.map((v) => all[v]!.zM),
            gradient,
            how: 'inside',
          };
        });
      const within = boxRing(box).every(([x, y]) => facetAt(x - shiftX, y - shiftY));
      // The triangulated ground is convex: it holds a box whose corners it holds.
      if (within) return inside;
      const reachM = size + Math.max(...boxRing(box).map(([x, y]) => Math.hypot(x - shiftX, y - shiftY)));
      const outside = rim
        .faces(reachM)
        .map((face): Face => ({ ...face, ring: face.ring.map(([x, y]): Point => [x + shiftX, y + shiftY]) }));
      return [...inside, ...outside];
    },
  };
}

function steps(g: Point, h: Point): boolean {
  return Math.hypot(g[0] - h[0], g[1] - h[1]) > SAME_SLOPE;
}

function facetOf(spots: readonly Spot[], corners: Triangle): Facet {
  const [a, b, c] = corners.map((v) => spots[v]!) as [Spot, Spot, Spot];
  const twice = area2(spots, corners);
  const longest = Math.max(
    Math.hypot(b.x - a.x, b.y - a.y),
    Math.hypot(c.x - b.x, c.y - b.y),
    Math.hypot(a.x - c.x, a.y - c.y),
  );
  return {
    corners,
    gradient: [
      ((b.zM - a.zM) * (c.y - a.y) - (c.zM - a.zM) * (b.y - a.y)) / twice,
      ((c.zM - a.zM) * (b.x - a.x) - (b.zM - a.zM) * (c.x - a.x)) / twice,
    ],
    fatness: twice / (longest * longest),
  };
}

function holds(spots: readonly Spot[], t: Triangle, x: number, y: number, slack: number): boolean {
  for (let k = 0; k < 3; k++) {
    const p = spots[t[k]!]!;
    const q = spots[t[(k + 1) % 3]!]!;
    const length = Math.sqrt((q.x - p.x) ** 2 + (q.y - p.y) ** 2);
    if ((q.x - p.x) * (y - p.y) - (q.y - p.y) * (x - p.x) < -slack * length) return false;
  }
  return true;
}

function edgesOf(facets: readonly Facet[]): Edge[] {
  const byEnds = new Map<string, { from: number; to: number; left: number; right: number }>();
  facets.forEach(({ corners }, i) => {
    for (let k = 0; k < 3; k++) {
      const from = corners[k]!;
      const to = corners[(k + 1) % 3]!;
      const twin = byEnds.get(`${to},${from}`);
      if (twin && twin.right < 0) twin.right = i;
      else byEnds.set(`${from},${to}`, { from, to, left: i, right: -1 });
    }
  });
  return [...byEnds.values()];
}

/** The outer sides in order, counter-clockwise, each with the slope at which the ground leaves over it. */
function rimOf(spots: readonly Spot[], facets: readonly Facet[], edges: readonly Edge[]): Side[] {
  const outer = new Map(edges.filter((edge) => edge.right < 0).map((edge) => [edge.from, edge] as const));
  const neighbours = new Map<number, number[]>();
  for (const { left, right } of edges) {
    if (right < 0) continue;
    neighbours.set(left, [...(neighbours.get(left) ?? []), right]);
    neighbours.set(right, [...(neighbours.get(right) ?? []), left]);
  }
  const start = Math.min(...outer.keys());
  const ring: RimEdge[] = [];
  let at = start;
  do {
    const edge = outer.get(at)!;
    const p = spots[edge.from]!;
    const q = spots[edge.to]!;
    const lengthM = Math.hypot(q.x - p.x, q.y - p.y);
    ring.push({
      from: p,
      to: q,
      lengthM,
      normal: [(q.y - p.y) / lengthM, -(q.x - p.x) / lengthM],
      gradient: facets[firmFacet(facets, neighbours, edge.left)]!.gradient,
    });
    at = edge.to;
  } while (at !== start && outer.has(at) && ring.length <= outer.size);
  return straightParts(ring).flatMap((part) => {
    const total = part.reduce((sum, edge) => sum + edge.lengthM, 0);
    const east = part.reduce((sum, edge) => sum + edge.gradient[0] * edge.lengthM, 0) / total;
    const north = part.reduce((sum, edge) => sum + edge.gradient[1] * edge.lengthM, 0) / total;
    return part.map(({ from, to, normal }): Side => ({
      a: [from.x, from.y],
      b: [to.x, to.y],
      zA: from.zM,
      zB: to.zM,
      outSlope: east * normal[0] + north * normal[1],
    }));
  });
}

interface RimEdge {
  readonly from: Spot;
  readonly to: Spot;
  readonly lengthM: number;
  readonly normal: Point;
  readonly gradient: Point;
}

/** Sine of the turn up to which edges of the rim count as one straight side with one slope over it. */
const STRAIGHT = Math.sin(Math.PI / 360);

/** The ring cut at its corners, beginning at its first corner. */
function straightParts(ring: readonly RimEdge[]): RimEdge[][] {
  const isCorner = (before: RimEdge, after: RimEdge): boolean =>
    Math.abs(before.normal[0] * after.normal[1] - before.normal[1] * after.normal[0]) > STRAIGHT;
  const first = ring.findIndex((edge, i) => isCorner(ring[(i + ring.length - 1) % ring.length]!, edge));
  const turned = [...ring.slice(Math.max(0, first)), ...ring.slice(0, Math.max(0, first))];
  const parts: RimEdge[][] = [];
  for (const edge of turned) {
    const part = parts.at(-1);
    if (part && !isCorner(part[0]!, edge)) part.push(edge);
    else parts.push([edge]);
  }
  return parts;
}

/** The facet itself, or the nearest one behind it that is no sliver; the fattest on the way where none is firm. */
function firmFacet(
  facets: readonly Facet[],
  neighbours: ReadonlyMap<number, readonly number[]>,
  start: number,
): number {
  let ring = [start];
  const seen = new Set(ring);
  let fattest = start;
  for (let depth = 0; depth < 6 && ring.length > 0; depth++) {
    fattest = ring.reduce((best, i) => (facets[i]!.fatness > facets[best]!.fatness ? i : best), fattest);
    if (facets[fattest]!.fatness >= SLIVER) return fattest;
    ring = ring.flatMap((i) => neighbours.get(i) ?? []).filter((i) => !seen.has(i) && seen.add(i));
  }
  return fattest;
}

interface BoxIndex {
  search(minX: number, minY: number, maxX: number, maxY: number): readonly number[];
}

function boxIndex(shapes: readonly (readonly Spot[])[]): BoxIndex {
  if (shapes.length === 0) return { search: () => [] };
  const index = new Flatbush(shapes.length);
  for (const corners of shapes) {
    const xs = corners.map((spot) => spot.x);
    const ys = corners.map((spot) => spot.y);
    index.add(Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys));
  }
  index.finish();
  return index;
}
