import type { Level } from '../../plan/records.ts';

/** Where a level lies, its height, and its place in the order of ids, which breaks ties. */
export interface Spot {
  readonly x: number;
  readonly y: number;
  readonly zM: number;
}

const SAME_PLACE = 0.001;

/**
 * Levels as spots in the order of their ids, so that the order of the table never matters. Levels within 1 mm of
 * each other become one with their mean height; a level with a value that is not a number is left out.
 */
export function spotsOf(levels: Iterable<Level>): Spot[] {
  const usable = [...levels].filter(
    (level) => Number.isFinite(level.at[0]) && Number.isFinite(level.at[1]) && Number.isFinite(level.zM),
  );
  usable.sort((a, b) => (a.id < b.id ? -1 : a.id > b.id ? 1 : 0));
  const cells = new Map<string, { x: number; y: number; sum: number; count: number }[]>();
  const merged: { x: number; y: number; sum: number; count: number }[] = [];
  for (const { at, zM } of usable) {
    const cellX = Math.round(at[0] / SAME_PLACE);
    const cellY = Math.round(at[1] / SAME_PLACE);
    let twin: (typeof merged)[number] | undefined;
    for (let dx = -1; dx <= 1 && !twin; dx++) {
      for (let dy = -1; dy <= 1 && !twin; dy++) {
        twin = cells
          .get(`${cellX + dx},${cellY + dy}`)
          ?.find((spot) => Math.hypot(spot.x - at[0], spot.y - at[1]) <= SAME_PLACE);
      }
    }
    if (twin) {
      twin.sum += zM;
      twin.count += 1;
      continue;
    }
    const spot = { x: at[0], y: at[1], sum: zM, count: 1 };
    merged.push(spot);
    const key = `${cellX},${cellY}`;
    const cell = cells.get(key);
    if (cell) cell.push(spot);
    else cells.set(key, [spot]);
  }
  return merged.map(({ x, y, sum, count }) => ({ x, y, zM: sum / count }));
}

/** The line along which spots lie, when they lie (nearly) on one. */
export interface SpotLine {
  readonly originX: number;
  readonly originY: number;
  readonly dirX: number;
  readonly dirY: number;
}

/** Narrower than this share of its length, a row of spots says nothing about the slope across it. */
const NARROW = 0.01;

/** The line through spots that lie nearly on one; null where they span an area. At least two spots. */
export function lineThrough(spots: readonly Spot[]): SpotLine | null {
  const n = spots.length;
  const originX = spots.reduce((sum, spot) => sum + spot.x, 0) / n;
  const originY = spots.reduce((sum, spot) => sum + spot.y, 0) / n;
  let xx = 0;
  let yy = 0;
  let xy = 0;
  for (const { x, y } of spots) {
    xx += (x - originX) ** 2;
    yy += (y - originY) ** 2;
    xy += (x - originX) * (y - originY);
  }
  const angle = 0.5 * Math.atan2(2 * xy, xx - yy);
  const line = { originX, originY, dirX: Math.cos(angle), dirY: Math.sin(angle) };
  const along = spots.map((spot) => stationOf(line, spot.x, spot.y));
  const across = spots.map(({ x, y }) => (y - originY) * line.dirX - (x - originX) * line.dirY);
  const length = Math.max(...along) - Math.min(...along);
  const width = Math.max(...across) - Math.min(...across);
  return width <= NARROW * length ? line : null;
}

/** Distance of a place along the line from its origin. */
export function stationOf(line: SpotLine, x: number, y: number): number {
  return (x - line.originX) * line.dirX + (y - line.originY) * line.dirY;
}
