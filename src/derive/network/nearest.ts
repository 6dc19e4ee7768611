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

/** The place on a line nearest to a point, in plan. Whole stretches that lie too far off are passed over. */
export function nearestOnLine(line: Line, p: Point): NearestOnLine {
  const { points, vertexAlong } = line;
  const chunks = chunked(line);
  const { boxes } = chunks;
  const [px, py] = p;
  let best = Infinity;
  let bestSegment = 0;
  let bestShare = 0;

  const search = (chunk: number): void => {
    const last = Math.min((chunk + 1) * CHUNK, points.length - 1);
    for (let k = chunk * CHUNK; k < last; k++) {
      const [ax, ay] = points[k]!;
      const dx = points[k + 1]![0] - ax;
      const dy = points[k + 1]![1] - ay;
      const raw = ((px - ax) * dx + (py - ay) * dy) / (dx * dx + dy * dy);
      const share = raw > 0 ? (raw < 1 ? raw : 1) : 0;
      const offX = px - ax - share * dx;
      const offY = py - ay - share * dy;
      const away = Math.sqrt(offX * offX + offY * offY);
      const isEqual = Math.abs(away - best) <= EQUAL;
      if (isEqual ? k < bestSegment : away < best) {
        best = away;
        bestSegment = k;
        bestShare = share;
      }
    }
  };
  search(chunks.last);
  for (let chunk = 0; chunk * CHUNK < points.length - 1; chunk++) {
    if (chunk === chunks.last) continue;
    const outX = Math.max(boxes[4 * chunk]! - px, 0, px - boxes[4 * chunk + 2]!);
    const outY = Math.max(boxes[4 * chunk + 1]! - py, 0, py - boxes[4 * chunk + 3]!);
    if (outX * outX + outY * outY <= (best + EQUAL) * (best + EQUAL)) search(chunk);
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
