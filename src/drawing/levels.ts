import { formatQuantity, type UnitSystem } from '../base/quantity.ts';
import type { Table } from '../base/table.ts';
import { refKey, type Level } from '../plan/records.ts';
import { PEN } from './inks.ts';
import type { Mark, SymbolMark } from './marks.ts';

export const LEVEL_SYMBOL = {
  name: 'level',
  sizeMm: 2.2,
  pen: { ink: 'line', widthMm: PEN.thin },
  fill: 'paper',
} as const satisfies Partial<SymbolMark>;

/** A height mark with its tip on the place. */
export function levelMarks(levels: Table<Level>): Mark[] {
  return levels.toArray().map((level) => ({
    kind: 'symbol',
    owner: refKey({ table: 'levels', id: level.id }),
    at: level.at,
    ...LEVEL_SYMBOL,
  }));
}

/** Heights beside their marks: dark on a light rim, so that they can be read on a photo. */
export function levelLabels(levels: Table<Level>, units: UnitSystem): Mark[] {
  return levels.toArray().map((level) => ({
    kind: 'text',
    halo: 'paper',
    owner: refKey({ table: 'levels', id: level.id }),
    at: level.at,
    // A true minus, clear of the mark's level line, which would swallow a hyphen.
    text: formatQuantity('length', level.zM, units).replace(/^-/, '\u2212'),
    sizeMm: 2.2,
    ink: 'line',
    anchor: 'start',
    shiftMm: [1.8, -0.4],
  }));
}
