import { between, type Point } from '../base/point.ts';
import { colorOf } from '../drawing/inks.ts';
import { BoxGrid } from './box-grid.ts';
import { lettered, ruled } from './brush.ts';
import { textWidth } from './lettering.ts';
import type { PaperPart, View } from './page.ts';
import { onPaper, partBox } from './projection.ts';
import type { Tile, Tiling } from './tiles.ts';
import { WORDS } from './words.ts';

const DASH_DOT = [6, 1.4, 0.8, 1.4];
/** Clear paper between the line and its words, millimetres. */
const CLEAR_MM = 2;
/** Places along the line to try for the words, the middle first. */
const PLACES = [0.5, 0.35, 0.65, 0.2, 0.8];
/** Marks up to this size are kept free of the words, mm2. */
const SMALL_MM2 = 100;

interface Side {
  readonly neighbour: Tile | undefined;
  /** Ends of the match line, from left to right or from below to above. */
  readonly a: Point;
  readonly b: Point;
  readonly turnDeg: number;
}

/**
 * Match lines of a tile, each interrupted by the number of the sheet on which it goes on. The ground beyond them is
 * drawn like all else, so that both sheets can be laid over each other. The words stand where they cover the fewest
 * symbols and texts of `drawn`.
 */
export function matchLines(
  tile: Tile,
  tiling: Tiling,
  numbers: ReadonlyMap<Tile, number>,
  view: View,
  drawn: readonly PaperPart[],
  f: number,
): PaperPart[] {
  const small = new BoxGrid();
  for (const part of drawn) {
    const box = partBox(part);
    if (box && (part.kind === 'text' || (box.maxX - box.minX) * (box.maxY - box.minY) < SMALL_MM2))
      small.add(box);
  }
  return sidesOf(tile, tiling, view).flatMap(({ neighbour, a, b, turnDeg }): PaperPart[] => {
    const sheet = neighbour && numbers.get(neighbour);
    const words = sheet === undefined ? WORDS.matchEdge : WORDS.matchLine(sheet);
    const size = 2.5 * f;
    const half = textWidth(words, size, true) / 2 + CLEAR_MM;
    const flat = turnDeg === 0;
    const spots = PLACES.map((share): { middle: Point; cost: number } => {
      const middle = between(a, b, share);
      const [w, h] = flat ? [half, size / 2] : [size / 2, half];
      const [x, y] = middle;
      return { middle, cost: small.covered([{ minX: x - w, maxX: x + w, minY: y - h, maxY: y + h }]) };
    });
    const { middle } = spots.reduce((best, spot) => (spot.cost < best.cost - 1e-6 ? spot : best));
    const from: Point = flat ? [middle[0] - half, middle[1]] : [middle[0], middle[1] + half];
    const to: Point = flat ? [middle[0] + half, middle[1]] : [middle[0], middle[1] - half];
    const at: Point = flat ? [middle[0], middle[1] + size * 0.36] : [middle[0] + size * 0.36, middle[1]];
    return [
      ruled(a, from, 'accent', 0.35, DASH_DOT),
      ruled(b, to, 'accent', 0.35, DASH_DOT),
      {
        ...lettered(at, words, size, { anchor: 'middle', turnDeg, ink: 'accent', bold: true }),
        halo: colorOf('paper', 'paper'),
      },
    ];
  });
}

function sidesOf(tile: Tile, tiling: Tiling, view: View): Side[] {
  const { x, y, w, h } = view.window;
  const [west, north] = onPaper(view, [tile.cell.minX, tile.cell.maxY]);
  const [east, south] = onPaper(view, [tile.cell.maxX, tile.cell.minY]);
  const at = (column: number, row: number): Tile | undefined =>
    tiling.tiles.find((other) => other.column === column && other.row === row);
  const upright = (along: number, neighbour: Tile | undefined): Side => ({
    neighbour,
    a: [along, y + h],
    b: [along, y],
    turnDeg: 90,
  });
  const level = (along: number, neighbour: Tile | undefined): Side => ({
    neighbour,
    a: [x, along],
    b: [x + w, along],
    turnDeg: 0,
  });
  const { column, row } = tile;
  const sides: Side[] = [];
  if (column > 0) sides.push(upright(west, at(column - 1, row)));
  if (column < tiling.columns - 1) sides.push(upright(east, at(column + 1, row)));
  if (row > 0) sides.push(level(north, at(column, row - 1)));
  if (row < tiling.rows - 1) sides.push(level(south, at(column, row + 1)));
  return sides;
}
