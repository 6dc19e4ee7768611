import type { Box, Point } from '../base/point.ts';
import type { Mark } from '../drawing/marks.ts';
import { markExtent } from './extent.ts';
import type { Frame } from './page.ts';
import { overlap } from './projection.ts';

/** Paper left free between the drawing and its window's edge, millimetres. */
export const CLEAR_MM = 4;
/** Paper beyond a match line that shows the neighbour's ground again, millimetres. */
export const LAP_MM = 8;

/** One sheet's share of the drawing. */
export interface Tile {
  readonly column: number;
  /** From the north of the drawing down. */
  readonly row: number;
  /** Ground up to the match lines, metres. */
  readonly cell: Box;
  readonly middle: Point;
}

/** Grids of more cells than this are not made: some mark lies far away. */
export const MOST_CELLS = 400;

export interface Tiling {
  readonly columns: number;
  readonly rows: number;
  /** From left to right, then down; empty when there are more than `MOST_CELLS`. */
  readonly tiles: readonly Tile[];
}

/**
 * Divides an extent over windows of one size. One tile when it fits with its clear margin; else cells side by
 * side about the extent's middle, each smaller than the window by the lap on every side.
 */
export function tilingOf(extent: Box, window: Pick<Frame, 'w' | 'h'>, mmPerMetre: number): Tiling {
  const across = shares(extent.maxX - extent.minX, window.w, mmPerMetre);
  const down = shares(extent.maxY - extent.minY, window.h, mmPerMetre);
  const midX = (extent.minX + extent.maxX) / 2;
  const midY = (extent.minY + extent.maxY) / 2;
  const west = midX - (across.count * across.size) / 2;
  const north = midY + (down.count * down.size) / 2;
  const tiles: Tile[] = [];
  if (across.count * down.count > MOST_CELLS) return { columns: across.count, rows: down.count, tiles };
  for (let row = 0; row < down.count; row++) {
    for (let column = 0; column < across.count; column++) {
      const cell: Box = {
        minX: west + column * across.size,
        maxX: west + (column + 1) * across.size,
        minY: north - (row + 1) * down.size,
        maxY: north - row * down.size,
      };
      tiles.push({
        column,
        row,
        cell,
        middle: [(cell.minX + cell.maxX) / 2, (cell.minY + cell.maxY) / 2],
      });
    }
  }
  return { columns: across.count, rows: down.count, tiles };
}

/** Number of windows along one direction, and the ground that each has to itself. */
function shares(ground: number, windowMm: number, mmPerMetre: number): { count: number; size: number } {
  const needed = ground * mmPerMetre;
  if (needed <= windowMm - 2 * CLEAR_MM + 1e-6) return { count: 1, size: windowMm / mmPerMetre };
  const each = windowMm - 2 * LAP_MM;
  const count = Math.ceil(needed / each - 1e-9);
  return { count, size: ground / count };
}

/** The tiles on which something is drawn; sheets of bare paper are left out. */
export function tilesWithMarks(tiling: Tiling, marks: readonly Mark[], mmPerMetre: number): Tile[] {
  const boxes = marks.flatMap((mark) => markExtent(mark, mmPerMetre) ?? []);
  return tiling.tiles.filter((tile) => boxes.some((box) => overlap(box, tile.cell)));
}
