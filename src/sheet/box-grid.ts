import type { Box } from '../base/point.ts';

/** Side of a cell, millimetres: about the size of a word. */
const CELL_MM = 12;
/** Boxes over more cells than this are kept in one list that is always searched. */
const MOST_CELLS = 400;
/** Rows of cells to a column in a key; a sheet of the size of a town has fewer. */
const ROWS = 2 ** 22;

/** Boxes on paper, found again by place. */
export class BoxGrid {
  private readonly cells = new Map<number, Box[]>();
  private readonly large: Box[] = [];
  private readonly all: Box[] = [];

  add(box: Box): void {
    this.all.push(box);
    const spread = cellsOf(box);
    if (!spread) {
      this.large.push(box);
      return;
    }
    for (let x = spread.minX; x <= spread.maxX; x++) {
      for (let y = spread.minY; y <= spread.maxY; y++) {
        const list = this.cells.get(x * ROWS + y);
        if (list) list.push(box);
        else this.cells.set(x * ROWS + y, [box]);
      }
    }
  }

  /** Paper of some boxes that lies under the grid's, mm2, doubly covered paper counted twice. */
  covered(boxes: readonly Box[]): number {
    let sum = 0;
    for (const box of boxes) {
      const spread = cellsOf(box);
      for (const other of spread ? this.large : this.all) sum += shared(box, other);
      if (!spread) continue;
      for (let x = spread.minX; x <= spread.maxX; x++) {
        for (let y = spread.minY; y <= spread.maxY; y++) {
          for (const other of this.cells.get(x * ROWS + y) ?? []) {
            // Boxes that meet in several cells count in the one in which their common part begins.
            if (
              cellAt(Math.max(box.minX, other.minX)) === x &&
              cellAt(Math.max(box.minY, other.minY)) === y
            ) {
              sum += shared(box, other);
            }
          }
        }
      }
    }
    return sum;
  }
}

function cellAt(place: number): number {
  return Math.floor(place / CELL_MM);
}

/** First and last cells that a box touches; `null` when they are too many to list. */
function cellsOf(box: Box): Box | null {
  const spread: Box = {
    minX: cellAt(box.minX),
    minY: cellAt(box.minY),
    maxX: cellAt(box.maxX),
    maxY: cellAt(box.maxY),
  };
  const count = (spread.maxX - spread.minX + 1) * (spread.maxY - spread.minY + 1);
  return count <= MOST_CELLS ? spread : null;
}

function shared(a: Box, b: Box): number {
  const w = Math.min(a.maxX, b.maxX) - Math.max(a.minX, b.minX);
  const h = Math.min(a.maxY, b.maxY) - Math.max(a.minY, b.minY);
  return w > 0 && h > 0 ? w * h : 0;
}
