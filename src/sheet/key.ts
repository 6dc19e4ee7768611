import { polar, type Box, type Point } from '../base/point.ts';
import type { Plan } from '../plan/records.ts';
import { colorOf } from '../drawing/inks.ts';
import { boxed, lettered, paperPen } from './brush.ts';
import type { Frame, PaperPart, View } from './page.ts';
import { onPaper } from './projection.ts';
import type { Tile, Tiling } from './tiles.ts';
import { WORDS } from './words.ts';

/** A plain needle, one half black, that points to north; `northDeg` is clockwise from straight up. */
export function northArrow(at: Point, radiusMm: number, northDeg: number, f: number): PaperPart[] {
  // `polar` turns counter-clockwise with y up; on paper y is down.
  const put = (length: number, deg: number): Point => {
    const [x, y] = polar([0, 0], length, 90 - northDeg + deg);
    return [at[0] + x, at[1] - y];
  };
  const pen = paperPen({ ink: 'line', widthMm: 0.25 });
  const tip = put(radiusMm, 0);
  const tail = put(radiusMm * 0.45, 180);
  const letter = put(radiusMm + 1.7 * f, 0);
  const size = 2.8 * f;
  return [
    { kind: 'circle', at, radiusMm: radiusMm * 0.72, pen: paperPen({ ink: 'soft', widthMm: 0.13 }) },
    {
      kind: 'path',
      lines: [[tip, put(radiusMm * 0.72, 150), tail]],
      closed: true,
      pen,
      fill: colorOf('line', 'paper'),
    },
    {
      kind: 'path',
      lines: [[tip, put(radiusMm * 0.72, -150), tail]],
      closed: true,
      pen,
      fill: colorOf('paper', 'paper'),
    },
    lettered([letter[0], letter[1] + 0.36 * size], WORDS.north, size, { anchor: 'middle', bold: true }),
  ];
}

/**
 * A small picture of the areas with the sheets laid over it; the sheet at hand is tinted. `numbers` gives the
 * sheet number of each tile that is drawn.
 */
export function keyPlan(
  box: Frame,
  plan: Plan,
  extent: Box,
  tiling: Tiling,
  numbers: ReadonlyMap<Tile, number>,
  here: Tile,
  f: number,
): PaperPart[] {
  const head = 4.4 * f;
  const west = Math.min(extent.minX, ...tiling.tiles.map((tile) => tile.cell.minX));
  const east = Math.max(extent.maxX, ...tiling.tiles.map((tile) => tile.cell.maxX));
  const south = Math.min(extent.minY, ...tiling.tiles.map((tile) => tile.cell.minY));
  const north = Math.max(extent.maxY, ...tiling.tiles.map((tile) => tile.cell.maxY));
  const room: Frame = { x: box.x, y: box.y + head, w: box.w, h: box.h - head };
  const view: View = {
    window: room,
    mmPerMetre: Math.min(room.w / (east - west), room.h / (north - south)),
    middle: [(west + east) / 2, (south + north) / 2],
  };
  const put = (p: Point): Point => onPaper(view, p);
  const frameOf = ({ cell }: Tile): Frame => {
    const [x, y] = put([cell.minX, cell.maxY]);
    return {
      x,
      y,
      w: (cell.maxX - cell.minX) * view.mmPerMetre,
      h: (cell.maxY - cell.minY) * view.mmPerMetre,
    };
  };
  const parts: PaperPart[] = [
    lettered([box.x + box.w / 2, box.y + 3 * f], WORDS.keyPlan, 2.2 * f, { anchor: 'middle', ink: 'soft' }),
    boxed(frameOf(here), { fill: 'accent', fillOpacity: 0.22 }),
  ];
  for (const area of plan.areas) {
    parts.push({
      kind: 'path',
      lines: [area.outline, ...area.holes].map((ring) => ring.map(put)),
      closed: true,
      pen: paperPen({ ink: area.use === 'bed' ? 'line' : 'faint', widthMm: 0.13 }),
    });
  }
  for (const tile of tiling.tiles) {
    const frame = frameOf(tile);
    const number = numbers.get(tile);
    const pen = { ink: 'soft', widthMm: 0.13, ...(number === undefined && { dashMm: [0.6, 0.6] }) } as const;
    parts.push(boxed(frame, { pen }));
    if (number === undefined) continue;
    const size = Math.min(2.6 * f, frame.h * 0.8, frame.w * 0.8);
    const at: Point = [frame.x + frame.w / 2, frame.y + frame.h / 2 + size * 0.36];
    parts.push(lettered(at, String(number), size, { anchor: 'middle', bold: tile === here }));
  }
  return parts;
}
