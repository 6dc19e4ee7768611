import { memo } from '../../base/memo.ts';
import { boxOf, type Point } from '../../base/point.ts';
import { labelPoint, polygonArea, polygonContains } from '../../base/polygon.ts';
import type { Table } from '../../base/table.ts';
import type { Area, Fall, Level, Plan } from '../../plan/records.ts';
import { groundOf, type Ground } from '../ground/index.ts';

/** Slope of the ground of a bed, or of all beds. */
export interface BedSlope {
  /** Mean over the ground in plan, percent. */
  readonly meanPercent: number;
  /** Steepest place looked at, percent. */
  readonly steepestPercent: number;
  /** Share of the ground that lies beyond the levels, where the slope is carried on; 0 to 1. */
  readonly outsideShare: number;
}

/** Places looked at in a bed, about; a bed that is thin in its box gets fewer, never more squares than the second. */
const PLACES = 400;
const MOST_SQUARES = 20_000;

/**
 * Slope of one bed, or of all beds by their area, on the ground that follows from levels and falls. `null` where
 * there is no such bed or nothing says how the ground slopes. Taken on a grid of equal squares, exact where the
 * ground is one plane. Remembered for the same tables.
 */
export function bedSlope(plan: Pick<Plan, 'areas' | 'levels' | 'falls'>, areaId?: string): BedSlope | null {
  const beds = slopes(plan.areas, plan.levels, plan.falls);
  if (areaId !== undefined) return beds.get(areaId)?.slope ?? null;
  let area = 0;
  let mean = 0;
  let outside = 0;
  let steepestPercent = 0;
  for (const { areaM2, slope } of beds.values()) {
    area += areaM2;
    mean += areaM2 * slope.meanPercent;
    outside += areaM2 * slope.outsideShare;
    steepestPercent = Math.max(steepestPercent, slope.steepestPercent);
  }
  return area > 0 ? { meanPercent: mean / area, steepestPercent, outsideShare: outside / area } : null;
}

interface SlopedBed {
  readonly areaM2: number;
  readonly slope: BedSlope;
}

const slopes = memo((areas: Table<Area>, levels: Table<Level>, falls: Table<Fall>) => {
  const found = new Map<string, SlopedBed>();
  if (levels.size < 2 && falls.size === 0) return found;
  const ground = groundOf({ levels, falls });
  for (const area of areas) {
    const areaM2 = polygonArea(area.outline, area.holes);
    if (area.use === 'bed' && areaM2 > 0)
      found.set(area.id, { areaM2, slope: slopeOn(ground, area, areaM2) });
  }
  return found;
});

function slopeOn(ground: Ground, area: Area, areaM2: number): BedSlope {
  const places = placesIn(area, areaM2);
  let sum = 0;
  let steepestPercent = 0;
  let outside = 0;
  for (const place of places) {
    const { percent } = ground.slopeAt(place);
    sum += percent;
    steepestPercent = Math.max(steepestPercent, percent);
    if (ground.heightAt(place).how !== 'inside') outside += 1;
  }
  return { meanPercent: sum / places.length, steepestPercent, outsideShare: outside / places.length };
}

/** Middles of equal squares that lie in the area; a place inside of it where none does. */
function placesIn({ outline, holes }: Area, areaM2: number): readonly Point[] {
  const box = boxOf(outline)!;
  const width = box.maxX - box.minX;
  const height = box.maxY - box.minY;
  const side = Math.sqrt(Math.max(areaM2 / PLACES, (width * height) / MOST_SQUARES));
  const columns = Math.min(MOST_SQUARES, Math.max(1, Math.round(width / side)));
  const rows = Math.min(MOST_SQUARES, Math.max(1, Math.round(height / side)));
  const places: Point[] = [];
  for (let column = 0; column < columns; column++) {
    for (let row = 0; row < rows; row++) {
      const place: Point = [
        box.minX + ((column + 0.5) * width) / columns,
        box.minY + ((row + 0.5) * height) / rows,
      ];
      if (polygonContains(outline, holes, place)) places.push(place);
    }
  }
  return places.length ? places : [labelPoint(outline, holes)];
}
