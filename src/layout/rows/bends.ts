import { distance, polar, type Path, type Point } from '../../base/point.ts';
import { directionDeg } from '../../base/point.ts';
import { FOOT_M } from '../../base/units.ts';

/** What half-inch dripline can be bent to. */
export const LEAST_BEND = {
  radiusM: FOOT_M / 2,
  source: 'common practice: half-inch tubing bends to about 6 in radius by hand when warm',
} as const;

/** Corners that turn by less are left as they are, degrees: tubing takes them. */
const ROUND_FROM_DEG = 10;
/** A bend is drawn in steps of about so much, degrees. */
const STEP_DEG = 15;

/** By how much a path turns at b, degrees, positive to the left. */
function turnDeg(a: Point, b: Point, c: Point): number {
  const turned = directionDeg(b, c) - directionDeg(a, b);
  return ((((turned + 180) % 360) + 360) % 360) - 180;
}

/**
 * A path whose corners are rounded to a radius, or as far as its pieces leave room. A closed path repeats its first
 * place at its end.
 */
export function roundedCorners(path: Path, isClosed: boolean, radiusM: number): Path {
  const points = isClosed ? path.slice(0, -1) : path;
  const n = points.length;
  if (n < 3) return path;
  const out: Point[] = [];
  points.forEach((b, i) => {
    const a = points[(i + n - 1) % n]!;
    const c = points[(i + 1) % n]!;
    if (!isClosed && (i === 0 || i === n - 1)) {
      out.push(b);
      return;
    }
    const turn = turnDeg(a, b, c);
    const half = (Math.abs(turn) * Math.PI) / 360;
    // Turns straight back cannot be rounded.
    if (Math.abs(turn) < ROUND_FROM_DEG || Math.abs(turn) > 175) {
      out.push(b);
      return;
    }
    const room = 0.49 * Math.min(distance(a, b), distance(b, c));
    const tangent = Math.min(radiusM * Math.tan(half), room);
    const radius = tangent / Math.tan(half);
    const side = Math.sign(turn);
    const before = polar(b, -tangent, directionDeg(a, b));
    const centre = polar(before, radius, directionDeg(a, b) + 90 * side);
    const from = directionDeg(centre, before);
    const steps = Math.max(1, Math.ceil(Math.abs(turn) / STEP_DEG));
    for (let k = 0; k <= steps; k++) out.push(polar(centre, radius, from + (turn * k) / steps));
  });
  return isClosed ? [...out, out[0]!] : out;
}

/** A bend counts as tight where it turns by so much on a length in which the least radius turns by 60 degrees. */
const TIGHT_DEG = 80;

/** How many places of a path bend tighter than a radius. */
export function tightBends(path: Path, isClosed: boolean, radiusM: number): number {
  const points = isClosed ? path.slice(0, -1) : path;
  const n = points.length;
  const windowM = (radiusM * Math.PI) / 3;
  const turns: { along: number; deg: number }[] = [];
  let along = 0;
  for (let i = 0; i < n; i++) {
    if (i > 0) along += distance(points[i - 1]!, points[i]!);
    if (!isClosed && (i === 0 || i === n - 1)) continue;
    turns.push({ along, deg: turnDeg(points[(i + n - 1) % n]!, points[i]!, points[(i + 1) % n]!) });
  }
  let [from, sum, count] = [0, 0, 0];
  for (let to = 0; to < turns.length; to++) {
    sum += turns[to]!.deg;
    while (turns[to]!.along - turns[from]!.along > windowM) sum -= turns[from++]!.deg;
    if (Math.abs(sum) <= TIGHT_DEG) continue;
    count += 1;
    from = to + 1;
    sum = 0;
  }
  return count;
}
