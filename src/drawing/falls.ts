import { between, directionDeg, distance } from '../base/point.ts';
import { formatQuantity, type UnitSystem } from '../base/quantity.ts';
import type { Table } from '../base/table.ts';
import { dropOf } from '../derive/ground/link-falls.ts';
import { refKey, type Fall } from '../plan/records.ts';
import { PEN } from './inks.ts';
import { upright } from './labels.ts';
import type { Mark, Pen, SymbolMark } from './marks.ts';

export const FALL_PEN: Pen = { ink: 'line', widthMm: PEN.thin };
const HEAD_MM = 2;

/** The head of a fall's arrow, pointing where the water goes. */
export function fallHead(directionOfFallDeg: number): Omit<SymbolMark, 'at'> {
  const turn = (directionOfFallDeg * Math.PI) / 180;
  return {
    kind: 'symbol',
    name: 'triangleUp',
    sizeMm: HEAD_MM,
    turnDeg: directionOfFallDeg - 90,
    // Its tip on the place.
    shiftMm: [(-Math.cos(turn) * HEAD_MM) / 2, (Math.sin(turn) * HEAD_MM) / 2],
    pen: FALL_PEN,
    fill: 'line',
  };
}

/** Falls as arrows that point downhill; without a fall they have no head. */
export function fallMarks(falls: Table<Fall>): Mark[] {
  return falls.toArray().flatMap((fall): Mark[] => {
    const owner = refKey({ table: 'falls', id: fall.id });
    const { from, to } = fall;
    const line: Mark = { kind: 'path', owner, lines: [[from, to]], closed: false, pen: FALL_PEN };
    const dropM = dropOf(fall);
    if (distance(from, to) === 0 || !(Math.abs(dropM) > 0)) return [line];
    const [upper, lower] = dropM > 0 ? [from, to] : [to, from];
    return [line, { ...fallHead(directionDeg(upper, lower)), owner, at: lower }];
  });
}

/** The measured figure along each arrow: a drop or a slope in percent, without a sign since the arrow points down. */
export function fallLabels(falls: Table<Fall>, units: UnitSystem): Mark[] {
  return falls.toArray().map((fall): Mark => {
    const { from, to, by } = fall;
    return {
      kind: 'text',
      halo: 'paper',
      owner: refKey({ table: 'falls', id: fall.id }),
      at: between(from, to, 0.5),
      text:
        by.kind === 'drop'
          ? formatQuantity('length', Math.abs(by.dropM), units)
          : formatQuantity('slope', Math.abs(by.percent), units),
      sizeMm: 2.2,
      ink: 'line',
      anchor: 'middle',
      turnDeg: upright(directionDeg(from, to)),
      shiftMm: [0, -0.9],
    };
  });
}
