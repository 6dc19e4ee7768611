import { between, distance, type Path, type Point } from '../../base/point.ts';
import type { Surface } from './surface.ts';

/**
 * A polyline laid on the ground. At each entry: distance along the plan, distance along the ground, height.
 * Between entries all three change evenly. Entries are the polyline's vertices and the places where the slope
 * changes.
 */
export interface Profile {
  readonly planAlong: readonly number[];
  readonly groundAlong: readonly number[];
  readonly zM: readonly number[];
  /** Entry of each vertex of the path. */
  readonly vertexEntry: readonly number[];
  /** Length on the ground, metres. */
  readonly groundLengthM: number;
  readonly planLengthM: number;
}

/** Lays a path (any number of points) on the surface. */
export function profileOn(surface: Surface, path: Path): Profile {
  const planAlong: number[] = [];
  const groundAlong: number[] = [];
  const heights: number[] = [];
  const vertexEntry: number[] = [];
  let planBase = 0;
  path.forEach((p, i) => {
    const before = path[i - 1];
    if (before) {
      const step = distance(before, p);
      const shares = surface.creases(before, p);
      shares.sort((a, b) => a - b);
      for (const share of shares) enter(planBase + share * step, between(before, p, share));
      planBase += step;
    }
    enter(planBase, p);
    vertexEntry.push(planAlong.length - 1);
  });

  function enter(along: number, p: Point): void {
    const zM = surface.heightAt(p).zM;
    const last = planAlong.length - 1;
    const run = last < 0 ? 0 : along - planAlong[last]!;
    const ground = last < 0 ? 0 : groundAlong[last]! + Math.sqrt(run * run + (zM - heights[last]!) ** 2);
    planAlong.push(along);
    groundAlong.push(ground);
    heights.push(zM);
  }
  return {
    planAlong,
    groundAlong,
    zM: heights,
    vertexEntry,
    groundLengthM: groundAlong.at(-1) ?? 0,
    planLengthM: planBase,
  };
}

/** Index of the entry at or before `value` in a rising list, at most the last but one. */
export function entryAt(rising: readonly number[], value: number): number {
  let low = 0;
  let high = Math.max(0, rising.length - 2);
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (rising[middle]! <= value) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** Reads `to` where `from` (rising) has the value, going evenly between entries; kept within the ends. */
export function readAcross(from: readonly number[], to: readonly number[], value: number): number {
  if (from.length < 2) return to[0] ?? 0;
  const k = entryAt(from, value);
  const span = from[k + 1]! - from[k]!;
  const share = span > 0 ? Math.min(1, Math.max(0, (value - from[k]!) / span)) : 0;
  return to[k]! + (to[k + 1]! - to[k]!) * share;
}
