import { between, type Point } from '../../base/point.ts';
import type { Line } from './lines.ts';

export interface NearestOnLine {
  readonly along: number;
  readonly point: Point;
  readonly distanceM: number;
}

const CHUNK = 16;
/** Places as near as this to the nearest count as equal: then the first along the line is taken. */
const EQUAL = 1e-7;

interface Chunks {
  /** Box of each stretch: least x, least y, most x, most y. */
  readonly boxes: Float64Array;
  /** Where the last answer lay: the next one is often near to it. */
  last: number;
}
const chunksOf = new WeakMap<Line, Chunks>();

/**
 * The place on a line nearest to a point, in plan, whatever was asked before. Whole stretches that lie too far off are
 * passed over.
 */
export function nearestOnLine(line: Line, p: Point): NearestOnLine {
  const { points, vertexAlong } = line;
  const chunks = chunked(line);
  const { boxes } = chunks;
  const [px, py] = p;
  let best = Infinity;
  let bestSegment = 0;
  let bestShare = 0;

  const awayFrom = (k: number): { readonly away: number; readonly share: number } => {
    const [ax, ay] = points[k]!;
    const dx = points[k + 1]![0] - ax;
    const dy = points[k + 1]![1] - ay;
    const raw = ((px - ax) * dx + (py - ay) * dy) / (dx * dx + dy * dy);
    const share = raw > 0 ? (raw < 1 ? raw : 1) : 0;
    const offX = px - ax - share * dx;
    const offY = py - ay - share * dy;
    return { away: Math.sqrt(offX * offX + offY * offY), share };
  };
  const isNear = (chunk: number): boolean => {
    const outX = Math.max(boxes[4 * chunk]! - px, 0, px - boxes[4 * chunk + 2]!);
    const outY = Math.max(boxes[4 * chunk + 1]! - py, 0, py - boxes[4 * chunk + 3]!);
    return outX * outX + outY * outY <= (best + EQUAL) * (best + EQUAL);
  };
  const endOf = (chunk: number): number => Math.min((chunk + 1) * CHUNK, points.length - 1);
  const search = (chunk: number): void => {
    for (let k = chunk * CHUNK; k < endOf(chunk); k++) best = Math.min(best, awayFrom(k).away);
  };
  search(chunks.last);
  for (let chunk = 0; chunk * CHUNK < points.length - 1; chunk++) {
    if (chunk !== chunks.last && isNear(chunk)) search(chunk);
  }
  // Only now the first of the equal ones: on the way to the least distance their order would depend on the start.
  first: for (let chunk = 0; chunk * CHUNK < points.length - 1; chunk++) {
    if (!isNear(chunk)) continue;
    for (let k = chunk * CHUNK; k < endOf(chunk); k++) {
      const { away, share } = awayFrom(k);
      if (away > best + EQUAL) continue;
      [bestSegment, bestShare] = [k, share];
      break first;
    }
  }
  chunks.last = Math.floor(bestSegment / CHUNK);
  const start = vertexAlong[bestSegment]!;
  return {
    along: start + bestShare * (vertexAlong[bestSegment + 1]! - start),
    point: between(points[bestSegment]!, points[bestSegment + 1]!, bestShare),
    distanceM: best,
  };
}

function chunked(line: Line): Chunks {
  const known = chunksOf.get(line);
  if (known) return known;
  const { points } = line;
  const boxes = new Float64Array(4 * Math.ceil((points.length - 1) / CHUNK));
  for (let chunk = 0; chunk * CHUNK < points.length - 1; chunk++) {
    const part = points.slice(chunk * CHUNK, (chunk + 1) * CHUNK + 1);
    boxes[4 * chunk] = Math.min(...part.map(([x]) => x));
    boxes[4 * chunk + 1] = Math.min(...part.map(([, y]) => y));
    boxes[4 * chunk + 2] = Math.max(...part.map(([x]) => x));
    boxes[4 * chunk + 3] = Math.max(...part.map(([, y]) => y));
  }
  const chunks = { boxes, last: 0 };
  chunksOf.set(line, chunks);
  return chunks;
}
