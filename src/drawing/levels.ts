import { formatQuantity, type UnitSystem } from '../base/quantity.ts';
import type { Table } from '../base/table.ts';
import { refKey, type Level } from '../plan/records.ts';
import { PEN } from './inks.ts';
import type { Mark, SymbolMark } from './marks.ts';

export const LEVEL_SYMBOL = {
  name: 'level',
  sizeMm: 2.2,
  pen: { ink: 'soft', widthMm: PEN.thin },
} as const satisfies Partial<SymbolMark>;

/** A height mark with its tip on the place, and its height beside it when asked. */
export function levelMarks(levels: Table<Level>, heights: boolean, units: UnitSystem): Mark[] {
  return levels.toArray().flatMap((level): Mark[] => {
    const owner = refKey({ table: 'levels', id: level.id });
    const symbol: Mark = { kind: 'symbol', owner, at: level.at, ...LEVEL_SYMBOL };
    if (!heights) return [symbol];
    const text = formatQuantity('length', level.zM, units);
    return [
      symbol,
      {
        kind: 'text',
        halo: 'paper',
        owner,
        at: level.at,
        text,
        sizeMm: 2.2,
        ink: 'soft',
        anchor: 'start',
        shiftMm: [1.2, -0.4],
      },
    ];
  });
}
