import { polar, type Path, type Point } from '../../base/point.ts';
import { readAcross, type Ground } from '../../derive/ground/index.ts';

/** Arcs leave their polyline by at most this, metres. */
const SAGITTA_M = 0.002;

/** Steps round a circle, an even number, so that each arc is no farther from its chord than the sagitta. */
export function stepsRound(radiusM: number): number {
  const halfStep = Math.acos(Math.max(0, 1 - SAGITTA_M / radiusM));
  return Math.max(24, 2 * Math.ceil(Math.PI / halfStep / 2));
}

/** Corners lie outside the arc by this factor, so that the polyline is as long as the arc. */
function cornerFactor(steps: number): number {
  const half = Math.PI / steps;
  return half / Math.sin(half);
}

/** The place that lies so far from another on the ground, in a direction. */
export function onGround(ground: Ground, from: Point, lengthM: number, deg: number): Point {
  const { groundAlong, planAlong } = ground.profile([from, polar(from, lengthM, deg)]);
  // The way on the ground is never shorter than that in plan.
  return polar(from, readAcross(groundAlong, planAlong, lengthM), deg);
}

/** A ring all of whose places lie at one distance from the stem on the ground; its first place is repeated at its end. */
export function ringAt(ground: Ground, stem: Point, radiusM: number): Path {
  const steps = stepsRound(radiusM);
  const reach = radiusM * cornerFactor(steps);
  const points = Array.from({ length: steps }, (_, i) => onGround(ground, stem, reach, (360 * i) / steps));
  return [...points, points[0]!];
}

/**
 * A spiral from a radius inwards to another, so much nearer with each turn, all measured on the ground.
 * @param startDeg direction of its outer end
 */
export function spiralFrom(
  ground: Ground,
  stem: Point,
  outerM: number,
  innerM: number,
  turnM: number,
  startDeg: number,
): Path {
  const steps = stepsRound(outerM);
  const factor = cornerFactor(steps);
  const count = Math.max(1, Math.round(((outerM - innerM) / turnM) * steps));
  return Array.from({ length: count + 1 }, (_, i) =>
    onGround(ground, stem, (outerM + ((innerM - outerM) * i) / count) * factor, startDeg + (360 * i) / steps),
  );
}
