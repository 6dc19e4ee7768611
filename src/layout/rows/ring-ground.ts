import { difference, regionOf, union, type Region } from '../../base/clip.ts';
import { polar, type Point } from '../../base/point.ts';
import type { Plan } from '../../plan/records.ts';

/** Ground under the rings of a tree that rows keep out of. */
export interface RingGround {
  readonly at: Point;
  /** Of the outermost ring, metres. */
  readonly radiusM: number;
}

/** Where rings lie that are to be kept clear of rows. */
export function ringGrounds(plan: Pick<Plan, 'fills' | 'plants'>): readonly RingGround[] {
  return [...plan.fills].flatMap((fill): RingGround[] => {
    if (fill.kind !== 'tree' || !fill.choices.clearRows || fill.runIds.length === 0) return [];
    const plant = plan.plants.get(fill.plantId);
    if (!plant) return [];
    const { canopyNowM, canopyMatureM, at } = plant;
    const radiusM = (fill.choices.canopy === 'now' ? (canopyNowM ?? canopyMatureM) : canopyMatureM) / 2;
    return radiusM > 0 && Number.isFinite(radiusM) && at.every(Number.isFinite) ? [{ at, radiusM }] : [];
  });
}

/** A region without the ground of rings, and so far round them, metres. */
export function offRings(plan: Plan, region: Region, roundM: number): Region {
  const rings = ringGrounds(plan);
  if (rings.length === 0) return region;
  const circles = rings.map(({ at, radiusM }) =>
    regionOf(Array.from({ length: 36 }, (_, i) => polar(at, radiusM + roundM, i * 10))),
  );
  return difference(region, union(circles));
}
