import type { Point } from '../base/point.ts';
import { boxed, lettered, ruled } from './brush.ts';
import { textWidth } from './lettering.ts';
import type { Frame, PaperPart, View } from './page.ts';
import { onPaper } from './projection.ts';
import type { Tile, Tiling } from './tiles.ts';
import { WORDS } from './words.ts';

const DASH_DOT = [6, 1.4, 0.8, 1.4];

interface Side {
  readonly neighbour: Tile | undefined;
  /** The strip between match line and window edge. */
  readonly strip: Frame;
  readonly a: Point;
  readonly b: Point;
  readonly turnDeg: number;
}

/** Match lines of a tile: ground beyond them is veiled, and each names the sheet on which it goes on. */
export function matchLines(
  tile: Tile,
  tiling: Tiling,
  numbers: ReadonlyMap<Tile, number>,
  view: View,
  f: number,
): PaperPart[] {
  const sides = sidesOf(tile, tiling, view);
  const veils = sides.map(({ strip }) => boxed(strip, { fill: 'paper', fillOpacity: 0.6 }));
  const lines = sides.flatMap(({ neighbour, strip, a, b, turnDeg }): PaperPart[] => {
    const sheet = neighbour && numbers.get(neighbour);
    const words = sheet === undefined ? WORDS.matchEdge : WORDS.matchLine(sheet);
    const size = 2.3 * f;
    const long = textWidth(words, size) + 4;
    const middle: Point = [strip.x + strip.w / 2, strip.y + strip.h / 2];
    const flat = turnDeg === 0;
    const back: Frame = flat
      ? { x: middle[0] - long / 2, y: middle[1] - size * 0.8, w: long, h: size * 1.6 }
      : { x: middle[0] - size * 0.8, y: middle[1] - long / 2, w: size * 1.6, h: long };
    const at: Point = flat ? [middle[0], middle[1] + size * 0.36] : [middle[0] + size * 0.36, middle[1]];
    return [
      ruled(a, b, 'accent', 0.35, DASH_DOT),
      boxed(back, { fill: 'paper' }),
      lettered(at, words, size, { anchor: 'middle', turnDeg, ink: 'accent' }),
    ];
  });
  return [...veils, ...lines];
}

function sidesOf(tile: Tile, tiling: Tiling, view: View): Side[] {
  const { x, y, w, h } = view.window;
  const [west, north] = onPaper(view, [tile.cell.minX, tile.cell.maxY]);
  const [east, south] = onPaper(view, [tile.cell.maxX, tile.cell.minY]);
  const at = (column: number, row: number): Tile | undefined =>
    tiling.tiles.find((other) => other.column === column && other.row === row);
  const sides: Side[] = [];
  if (tile.column > 0) {
    sides.push({
      neighbour: at(tile.column - 1, tile.row),
      strip: { x, y, w: west - x, h },
      a: [west, y],
      b: [west, y + h],
      turnDeg: 90,
    });
  }
  if (tile.column < tiling.columns - 1) {
    sides.push({
      neighbour: at(tile.column + 1, tile.row),
      strip: { x: east, y, w: x + w - east, h },
      a: [east, y],
      b: [east, y + h],
      turnDeg: 90,
    });
  }
  if (tile.row > 0) {
    sides.push({
      neighbour: at(tile.column, tile.row - 1),
      strip: { x, y, w, h: north - y },
      a: [x, north],
      b: [x + w, north],
      turnDeg: 0,
    });
  }
  if (tile.row < tiling.rows - 1) {
    sides.push({
      neighbour: at(tile.column, tile.row + 1),
      strip: { x, y: south, w, h: y + h - south },
      a: [x, south],
      b: [x + w, south],
      turnDeg: 0,
    });
  }
  return sides;
}
