/** Nodes of a tile along each side. */
const SIDE = 32;
/** Far enough for any plan: tiles are numbered by column and row in one number. */
const ROW_OF_TILES = 2 ** 21;

interface Tile {
  /** Column and row of its first node. */
  readonly column: number;
  readonly row: number;
  /** Above 0 inside. */
  readonly value: Float32Array;
  readonly owner: Int32Array;
}

/**
 * Values on the nodes of an endless grid of which only the tiles in use exist; elsewhere the value is minus infinity.
 * Each node keeps the highest value put on it and who put it there.
 */
export class NodeField {
  private readonly tiles = new Map<number, Tile>();

  *[Symbol.iterator](): Iterator<Tile & { readonly side: number }> {
    for (const tile of this.tiles.values()) yield { ...tile, side: SIDE };
  }

  private at(tileColumn: number, tileRow: number): Tile | undefined {
    return this.tiles.get(tileColumn * ROW_OF_TILES + tileRow);
  }

  /** Puts values on all nodes of a rectangle of columns and rows, both ends included. */
  put(
    [fromColumn, toColumn]: readonly [number, number],
    [fromRow, toRow]: readonly [number, number],
    owner: number,
    valueAt: (column: number, row: number) => number,
  ): void {
    for (let tc = Math.floor(fromColumn / SIDE); tc <= Math.floor(toColumn / SIDE); tc++) {
      for (let tr = Math.floor(fromRow / SIDE); tr <= Math.floor(toRow / SIDE); tr++) {
        const tile = this.at(tc, tr) ?? this.add(tc, tr);
        const lastColumn = Math.min(toColumn, tile.column + SIDE - 1);
        const lastRow = Math.min(toRow, tile.row + SIDE - 1);
        for (let row = Math.max(fromRow, tile.row); row <= lastRow; row++) {
          for (let column = Math.max(fromColumn, tile.column); column <= lastColumn; column++) {
            const node = (row - tile.row) * SIDE + column - tile.column;
            const value = valueAt(column, row);
            if (value > tile.value[node]!) {
              tile.value[node] = value;
              tile.owner[node] = owner;
            }
          }
        }
      }
    }
  }

  value(column: number, row: number): number {
    const tile = this.at(Math.floor(column / SIDE), Math.floor(row / SIDE));
    return tile ? tile.value[(row - tile.row) * SIDE + column - tile.column]! : -Infinity;
  }

  private add(tileColumn: number, tileRow: number): Tile {
    const tile: Tile = {
      column: tileColumn * SIDE,
      row: tileRow * SIDE,
      value: new Float32Array(SIDE * SIDE).fill(-Infinity),
      owner: new Int32Array(SIDE * SIDE),
    };
    this.tiles.set(tileColumn * ROW_OF_TILES + tileRow, tile);
    return tile;
  }
}
