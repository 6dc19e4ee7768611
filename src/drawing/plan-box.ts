import { boxOf, type Box, type Point } from '../base/point.ts';
import { photoToPlan } from '../derive/photo-fit.ts';
import { placesOf } from '../plan/places.ts';
import { TABLES, type Plan } from '../plan/records.ts';

/** Box round everything on the plan, mature canopies and the photo included; null when there is nothing. */
export function planBox(plan: Plan): Box | null {
  const points: Point[] = [];
  for (const table of TABLES) {
    for (const { id } of plan[table]) points.push(...placesOf(plan, { table, id }));
  }
  for (const { at, canopyMatureM } of plan.plants) {
    const r = canopyMatureM / 2;
    points.push([at[0] - r, at[1] - r], [at[0] + r, at[1] + r]);
  }
  const { photo } = plan;
  if (photo) {
    const { widthPx: w, heightPx: h } = photo;
    for (const px of [
      [0, 0],
      [w, 0],
      [0, h],
      [w, h],
    ] as const) {
      points.push(photoToPlan(photo, px));
    }
  }
  return boxOf(points);
}
