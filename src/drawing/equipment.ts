import type { Table } from '../base/table.ts';
import { refKey, type ControlSet, type Supply } from '../plan/records.ts';
import { PEN } from './inks.ts';
import type { Mark, SymbolMark } from './marks.ts';

export const SUPPLY_SYMBOL = {
  name: 'supply',
  sizeMm: 4.2,
  pen: { ink: 'water', widthMm: PEN.medium },
  fill: 'paper',
} as const satisfies Partial<SymbolMark>;

export const CONTROL_SYMBOL = {
  name: 'control',
  sizeMm: 6,
  pen: { ink: 'accent', widthMm: PEN.medium },
  fill: 'paper',
} as const satisfies Partial<SymbolMark>;

/** Filter and regulator sets with their names. */
export function controlMarks(controls: Table<ControlSet>): Mark[] {
  return controls.toArray().flatMap((control) => {
    const owner = refKey({ table: 'controls', id: control.id });
    return named({ kind: 'symbol', owner, at: control.at, ...CONTROL_SYMBOL }, control.name);
  });
}

/** Valves with their names. */
export function supplyMarks(supplies: Table<Supply>): Mark[] {
  return supplies.toArray().flatMap((supply) => {
    const owner = refKey({ table: 'supplies', id: supply.id });
    return named({ kind: 'symbol', owner, at: supply.at, ...SUPPLY_SYMBOL }, supply.name);
  });
}

function named(symbol: SymbolMark, name: string): Mark[] {
  if (!name) return [symbol];
  const text: Mark = {
    kind: 'text',
    halo: 'paper',
    at: symbol.at,
    text: name,
    sizeMm: 2.6,
    ink: 'line',
    anchor: 'middle',
    shiftMm: [0, symbol.sizeMm / 2 + 2.8],
  };
  return [symbol, symbol.owner ? { ...text, owner: symbol.owner } : text];
}
