import { boxOf, distance, type Box, type Point, type Ring } from './point.ts';
import { nearestOnSegment, segmentCrossing } from './polyline.ts';

/** Points this close to an edge count as on it: a share of the coordinates' size, about their rounding. */
const ON_EDGE = 1e-11;

/**
 * Area of a ring, m2, positive when it runs counter-clockwise (shoelace formula, taken from the first point so
 * that plans far from the origin keep their digits). 0 for fewer than three points.
 */
export function ringArea(ring: Ring): number {
  const origin = ring[0];
  if (!origin) return 0;
  let twice = 0;
  for (let i = 1; i + 1 < ring.length; i++) {
    const a = ring[i]!;
    const b = ring[i + 1]!;
    twice += (a[0] - origin[0]) * (b[1] - origin[1]) - (b[0] - origin[0]) * (a[1] - origin[1]);
  }
  return twice / 2;
}

/** Area of an outline less its holes, m2, never below 0. Holes are taken to lie inside and apart from each other. */
export function polygonArea(outline: Ring, holes: readonly Ring[] = []): number {
  const net = holes.reduce((sum, hole) => sum - Math.abs(ringArea(hole)), Math.abs(ringArea(outline)));
  return Math.max(0, net);
}

/** Length around a ring, metres. */
export function ringLength(ring: Ring): number {
  let sum = 0;
  for (let i = 0; i < ring.length; i++) sum += distance(ring[i]!, ring[(i + 1) % ring.length]!);
  return sum;
}

/** Distance from `p` to the ring's line, metres, inside or outside; Infinity for a ring without points. */
export function distanceToRing(ring: Ring, p: Point): number {
  let best = Infinity;
  for (let i = 0; i < ring.length; i++) {
    best = Math.min(best, nearestOnSegment(ring[i]!, ring[(i + 1) % ring.length]!, p).distance);
  }
  return best;
}

/** Rounding error to expect of places on the ring, metres. */
function edgeTolerance(ring: Ring): number {
  let largest = 0;
  for (const [x, y] of ring) largest = Math.max(largest, Math.abs(x), Math.abs(y));
  return largest * ON_EDGE;
}

/** Even-odd rule without regard to the edge itself (ray towards east, half-open edges). */
function oddCrossings(ring: Ring, [x, y]: Point): boolean {
  let inside = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [xi, yi] = ring[i]!;
    const [xj, yj] = ring[j]!;
    if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) inside = !inside;
  }
  return inside;
}

/** Whether `p` lies on the ring's line, but for rounding. Edges far from `p` are passed over by their boxes. */
function onEdge(ring: Ring, p: Point): boolean {
  const near = edgeTolerance(ring);
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const a = ring[j]!;
    const b = ring[i]!;
    if (p[0] < Math.min(a[0], b[0]) - near || p[0] > Math.max(a[0], b[0]) + near) continue;
    if (p[1] < Math.min(a[1], b[1]) - near || p[1] > Math.max(a[1], b[1]) + near) continue;
    if (nearestOnSegment(a, b, p).distance <= near) return true;
  }
  return false;
}

/** Whether `p` lies in the ring or on its line. A ring that crosses itself is read by the even-odd rule. */
export function ringContains(ring: Ring, p: Point): boolean {
  return oddCrossings(ring, p) || onEdge(ring, p);
}

/** Whether `p` lies in the outline and in no hole; the lines of outline and holes count as inside. */
export function polygonContains(outline: Ring, holes: readonly Ring[], p: Point): boolean {
  if (!ringContains(outline, p)) return false;
  return holes.every((hole) => !oddCrossings(hole, p) || onEdge(hole, p));
}

/**
 * Centre of a ring's area; it may lie outside a bent ring. A ring without area gives the middle of its points'
 * box. Throws a RangeError for a ring without points.
 */
export function ringCentroid(ring: Ring): Point {
  const box = boxOf(ring);
  const origin = ring[0];
  if (!box || !origin) throw new RangeError('ringCentroid: the ring has no points');
  const middle: Point = [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
  let twice = 0;
  let sumX = 0;
  let sumY = 0;
  for (let i = 1; i + 1 < ring.length; i++) {
    const ax = ring[i]![0] - origin[0];
    const ay = ring[i]![1] - origin[1];
    const bx = ring[i + 1]![0] - origin[0];
    const by = ring[i + 1]![1] - origin[1];
    const cross = ax * by - bx * ay;
    twice += cross;
    sumX += (ax + bx) * cross;
    sumY += (ay + by) * cross;
  }
  const size = Math.max(box.maxX - box.minX, box.maxY - box.minY);
  if (Math.abs(twice) <= 1e-12 * size * size) return middle;
  return [origin[0] + sumX / (3 * twice), origin[1] + sumY / (3 * twice)];
}

/** The ring without points that repeat the one before. */
function withoutRepeats(ring: Ring): Point[] {
  const kept = ring.filter((p, i) => {
    const before = ring[(i + ring.length - 1) % ring.length]!;
    return p[0] !== before[0] || p[1] !== before[1];
  });
  return kept;
}

/**
 * Places where a ring meets itself: crossings, touching corners, and edges that run back over their neighbour.
 * Each place is given once. Empty for a ring that may be used as an area.
 */
export function selfCrossings(ring: Ring): Point[] {
  const points = withoutRepeats(ring);
  const n = points.length;
  const found: Point[] = [];
  const close = edgeTolerance(ring) * 10;
  const add = (p: Point | null): void => {
    if (p && !found.some((q) => distance(p, q) <= close)) found.push(p);
  };
  for (let i = 0; i < n; i++) {
    const a = points[i]!;
    const b = points[(i + 1) % n]!;
    const next = points[(i + 2) % n]!;
    if (n > 2 && foldsBack(a, b, next)) add(b);
    for (let j = i + 2; j < n; j++) {
      if (i === 0 && j === n - 1) continue;
      const c = points[j]!;
      const d = points[(j + 1) % n]!;
      if (boxesApart(a, b, c, d)) continue;
      add(segmentCrossing(a, b, c, d));
    }
  }
  return found;
}

/** Whether the edge from `b` to `c` runs straight back along the edge that came from `a`. */
function foldsBack(a: Point, b: Point, c: Point): boolean {
  const ux = a[0] - b[0];
  const uy = a[1] - b[1];
  const vx = c[0] - b[0];
  const vy = c[1] - b[1];
  const size = Math.hypot(ux, uy) * Math.hypot(vx, vy);
  return Math.abs(ux * vy - uy * vx) <= 1e-12 * size && ux * vx + uy * vy > 0;
}

function boxesApart(a: Point, b: Point, c: Point, d: Point): boolean {
  return (
    Math.max(a[0], b[0]) < Math.min(c[0], d[0]) ||
    Math.max(c[0], d[0]) < Math.min(a[0], b[0]) ||
    Math.max(a[1], b[1]) < Math.min(c[1], d[1]) ||
    Math.max(c[1], d[1]) < Math.min(a[1], b[1])
  );
}

interface Square {
  readonly at: Point;
  readonly half: number;
  /** Distance from the middle to the nearest edge, negative outside. */
  readonly room: number;
}

/**
 * A place for a label: inside the polygon, out of its holes, and nearly as far from every edge as possible.
 * Squares over the polygon are split, the most promising first, until none can beat the best by a fiftieth of
 * the polygon's size. A polygon without area gives the middle of its box. Throws for an outline without points.
 */
export function labelPoint(outline: Ring, holes: readonly Ring[] = []): Point {
  const box = boxOf(outline);
  if (!box) throw new RangeError('labelPoint: the outline has no points');
  const size = Math.max(box.maxX - box.minX, box.maxY - box.minY);
  const start = middleOfWidestChord(outline, holes, box);
  if (!start || size === 0) return ringCentroid(outline);
  const rings = [outline, ...holes];
  const measure = (at: Point, half: number): Square => {
    const toEdge = rings.reduce((least, ring) => Math.min(least, distanceToRing(ring, at)), Infinity);
    const inside = rings.reduce((odd, ring) => odd !== oddCrossings(ring, at), false);
    return { at, half, room: inside ? toEdge : -toEdge };
  };
  let best = measure(start, 0);
  const consider = (square: Square): void => {
    if (square.room > best.room) best = square;
  };
  consider(measure(ringCentroid(outline), 0));
  const reach = (square: Square): number => square.room + square.half * Math.SQRT2;
  const middle: Point = [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
  const waiting = [measure(middle, size / 2)];
  consider(waiting[0]!);
  for (let left = 400; left > 0 && waiting.length > 0; left--) {
    let pick = 0;
    for (let i = 1; i < waiting.length; i++) if (reach(waiting[i]!) > reach(waiting[pick]!)) pick = i;
    const [square] = waiting.splice(pick, 1);
    if (!square || reach(square) <= best.room + size / 50) break;
    const half = square.half / 2;
    for (const [sx, sy] of [
      [-1, -1],
      [1, -1],
      [-1, 1],
      [1, 1],
    ] as const) {
      const part = measure([square.at[0] + sx * half, square.at[1] + sy * half], half);
      consider(part);
      if (reach(part) > best.room + size / 50) waiting.push(part);
    }
  }
  return best.at;
}

/** Middle of the widest level stretch inside the polygon on a few lines across it; `null` when there is none. */
function middleOfWidestChord(outline: Ring, holes: readonly Ring[], box: Box): Point | null {
  let widest = 0;
  let answer: Point | null = null;
  for (let line = 1; line <= 15; line++) {
    const y = box.minY + ((box.maxY - box.minY) * line) / 16;
    const cuts: number[] = [];
    for (const ring of [outline, ...holes]) {
      for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
        const [xi, yi] = ring[i]!;
        const [xj, yj] = ring[j]!;
        if (yi > y !== yj > y) cuts.push(((xj - xi) * (y - yi)) / (yj - yi) + xi);
      }
    }
    cuts.sort((a, b) => a - b);
    for (let i = 0; i + 1 < cuts.length; i += 2) {
      const width = cuts[i + 1]! - cuts[i]!;
      if (width > widest) {
        widest = width;
        answer = [(cuts[i]! + cuts[i + 1]!) / 2, y];
      }
    }
  }
  return answer;
}
