import type { Point } from '../../base/point.ts';
import { directionDeg, distance } from '../../base/point.ts';
import type { Head, HeadPattern } from '../records.ts';
import type { Edit } from './edit.ts';

/** Changes heads one by one; those for which `fields` gives `null`, and unknown ids, stay as they are. */
export function changeHeads(
  label: string,
  ids: readonly string[],
  fields: (head: Head) => Partial<Omit<Head, 'id'>> | null,
): Edit {
  return {
    label,
    apply: (plan) => {
      const changed = ids.flatMap((id) => {
        const head = plan.heads.get(id);
        const next = head && fields(head);
        return head && next ? [{ ...head, ...next }] : [];
      });
      return changed.length ? { ...plan, heads: plan.heads.with(...changed) } : plan;
    },
  };
}

/** A direction in [0, 360). */
export function wholeTurn(deg: number): number {
  const turned = ((deg % 360) + 360) % 360;
  // A hair below a full turn, as sums of degrees leave it.
  return turned > 360 - 1e-9 ? 0 : turned;
}

/** Narrowest sector and shortest radius that can be dragged. */
const LEAST_SWEEP_DEG = 5;
const LEAST_RADIUS_M = 0.3;

/** Middle direction of a pattern, degrees; that of a full circle points away from its start. */
export function middleDeg(pattern: HeadPattern): number {
  return pattern.kind === 'strip'
    ? (pattern.directionDeg ?? 0)
    : wholeTurn(pattern.startDeg + pattern.sweepDeg / 2);
}

/** The same sector with another sweep, about the same middle. */
export function withSweep(pattern: HeadPattern | null, sweepDeg: number, radiusM: number): HeadPattern {
  const middle = pattern ? middleDeg(pattern) : 90;
  const startDeg = sweepDeg >= 360 ? 0 : wholeTurn(middle - sweepDeg / 2);
  return {
    kind: 'sector',
    radiusM: pattern?.kind === 'sector' ? pattern.radiusM : radiusM,
    startDeg,
    sweepDeg,
  };
}

/**
 * A pattern pulled out from a head towards a place: the direction is the middle of a sector and the distance its
 * radius, or the direction of a strip and half its length. `stepDeg` rounds the sector's start, or the strip's direction.
 */
export function pulledPattern(pattern: HeadPattern, at: Point, to: Point, stepDeg: number): HeadPattern {
  const towards = directionDeg(at, to);
  const far = Math.max(distance(at, to), LEAST_RADIUS_M);
  const rounded = (deg: number) => wholeTurn(stepDeg > 0 ? Math.round(deg / stepDeg) * stepDeg : deg);
  if (pattern.kind === 'strip') {
    return { ...pattern, lengthM: 2 * far, directionDeg: rounded(towards) };
  }
  const startDeg = pattern.sweepDeg >= 360 ? 0 : rounded(towards - pattern.sweepDeg / 2);
  return { ...pattern, radiusM: far, startDeg };
}

export type HeadHandle = 'radius' | 'start' | 'end' | 'length' | 'width';

/** A head's pattern with one of its handles pulled to a place; directions are rounded to `stepDeg` where above zero. */
export function pulledHandle(
  pattern: HeadPattern,
  at: Point,
  handle: HeadHandle,
  to: Point,
  stepDeg: number,
): HeadPattern {
  const far = Math.max(distance(at, to), LEAST_RADIUS_M);
  const raw = directionDeg(at, to);
  const towards = wholeTurn(stepDeg > 0 ? Math.round(raw / stepDeg) * stepDeg : raw);
  if (pattern.kind === 'strip') {
    if (handle === 'length') return { ...pattern, lengthM: 2 * far, directionDeg: towards };
    if (handle !== 'width') return pattern;
    // Only the part square to the strip counts.
    const turn = ((raw - (pattern.directionDeg ?? 0)) * Math.PI) / 180;
    return { ...pattern, widthM: Math.max(2 * distance(at, to) * Math.abs(Math.sin(turn)), LEAST_RADIUS_M) };
  }
  if (handle === 'radius') return { ...pattern, radiusM: far };
  const end = pattern.startDeg + pattern.sweepDeg;
  const start = handle === 'start' ? towards : pattern.startDeg;
  const opened = wholeTurn(handle === 'start' ? end - towards : towards - pattern.startDeg);
  // Where start and end meet, the sector closes if it was wide and stays a sliver if it was narrow.
  const sweepDeg =
    opened < 1e-6 ? (pattern.sweepDeg > 180 ? 360 : LEAST_SWEEP_DEG) : Math.max(opened, LEAST_SWEEP_DEG);
  return { ...pattern, startDeg: wholeTurn(start), sweepDeg };
}
