import { distance, polar, type Path, type Point } from '../../base/point.ts';
import { directionDeg } from '../../base/point.ts';
import { nearestOnPath } from '../../base/polyline.ts';
import { FOOT_M } from '../../base/units.ts';
import { BEND_SOURCE, bendLimitOf, FITTING_M, tightCorners } from '../../derive/bend-radius.ts';
import { limitOf } from '../../derive/checks/check.ts';
import type { Plan } from '../../plan/records.ts';
import type { FillNote, NewRun } from './choices.ts';

/** Thin tubing bends as it likes; it is still drawn with round corners, metres. */
const LEAST_BEND_M = FOOT_M / 4;

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
 * @param rightM radius of the corners to the right, where it is another
 */
export function roundedCorners(path: Path, isClosed: boolean, radiusM: number, rightM = radiusM): Path {
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
    const tangent = Math.min((turn < 0 ? rightM : radiusM) * Math.tan(half), room);
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

/** An arc drawn in steps lies a little within its corners: rounded by so much more, they are wide enough. */
const DRAWN_WIDER = 1.01;

/** The radius to which rows of a tubing are rounded, metres: the limit of the plan's check on bends, or a little more. */
export function bendRadius(plan: Pick<Plan, 'checks'>, tubing: string): number {
  const limit = bendLimitOf(tubing);
  return DRAWN_WIDER * (limit ? limitOf(plan)(limit) : LEAST_BEND_M);
}

/** Places at which runs of dripline bend tighter than their tubing can, as the check on bends counts them. */
export function bendNotes(plan: Pick<Plan, 'checks'>, runs: readonly NewRun[]): FillNote[] {
  let [count, leastM] = [0, 0];
  for (const run of runs) {
    const limit = run.inline && bendLimitOf(run.tubing);
    if (!limit) continue;
    leastM = limitOf(plan)(limit);
    count += tightCorners(run.path, leastM, (at) =>
      runs.some((other) => other !== run && nearestOnPath(other.path, at).distance <= FITTING_M),
    ).length;
  }
  return count > 0 ? [{ kind: 'tight-bend', count, leastM, source: BEND_SOURCE }] : [];
}
