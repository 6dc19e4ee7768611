import Flatbush from 'flatbush';
import { memo } from '../../base/memo.ts';
import { boxOf, type Point } from '../../base/point.ts';
import { polygonContains } from '../../base/polygon.ts';
import type { Area, Plan } from '../../plan/records.ts';

/** The first bed of the plan that a place lies in; `null` outside of all. Remembered while the areas are the same. */
export const bedFinder = memo((areas: Plan['areas']): ((p: Point) => Area | null) => {
  const beds = [...areas].flatMap((area) => {
    const box = area.use === 'bed' ? boxOf(area.outline) : null;
    return box ? [{ area, box }] : [];
  });
  if (beds.length === 0) return () => null;
  const index = new Flatbush(beds.length);
  for (const { box } of beds) index.add(box.minX, box.minY, box.maxX, box.maxY);
  index.finish();
  return ([x, y]) => {
    const found = index
      .search(x, y, x, y)
      .sort((a, b) => a - b)
      .find((i) => polygonContains(beds[i]!.area.outline, beds[i]!.area.holes, [x, y]));
    return found === undefined ? null : beds[found]!.area;
  };
});
