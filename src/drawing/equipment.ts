import { distance } from '../base/point.ts';
import { formatQuantity, shownValue, type UnitSystem } from '../base/quantity.ts';
import type { Table } from '../base/table.ts';
import { filterById } from '../catalog/index.ts';
import { refKey, type ControlSet, type Supply } from '../plan/records.ts';
import { PEN } from './inks.ts';
import type { Mark, SymbolMark, TextMark } from './marks.ts';
import { JOINT_TOLERANCE_M } from '../plan/joining.ts';

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

/** Paper between the symbols of a supply and of the control set that stands on it, millimetres. */
const GAP_MM = 1.6;
const SUPPLY_EDGE_MM = SUPPLY_SYMBOL.sizeMm / 2;
/** How far right of its place a set that stands on a supply is drawn, millimetres of pen. */
export const ASIDE_MM = SUPPLY_EDGE_MM + GAP_MM + CONTROL_SYMBOL.sizeMm / 2;

/** Whether a control set has a supply under it, so that its symbol stands beside. */
export function standsOnSupply(control: ControlSet, supplies: Table<Supply>): boolean {
  return supplies.toArray().some((supply) => distance(supply.at, control.at) <= JOINT_TOLERANCE_M);
}

/**
 * Filter and regulator sets with name, set pressure and filter. The symbol of a set that stands on a supply is drawn
 * beside the supply's, joined to it by a short line.
 */
export function controlMarks(
  controls: Table<ControlSet>,
  supplies: Table<Supply>,
  units: UnitSystem,
): Mark[] {
  return controls.toArray().flatMap((control): Mark[] => {
    const owner = refKey({ table: 'controls', id: control.id });
    const beside = standsOnSupply(control, supplies);
    const base = { kind: 'symbol', owner, at: control.at } as const;
    const below = CONTROL_SYMBOL.sizeMm / 2 + 2.8;
    const words = [
      { text: control.name, sizeMm: 2.6 },
      { text: settingWords(control, units), sizeMm: 2.2 },
    ].filter(({ text }) => text !== '');
    const texts = words.map(({ text, sizeMm }, i): TextMark => ({
      kind: 'text',
      halo: 'paper',
      owner,
      at: control.at,
      text,
      sizeMm,
      ink: 'line',
      anchor: beside ? 'start' : 'middle',
      shiftMm: [beside ? ASIDE_MM - CONTROL_SYMBOL.sizeMm / 2 : 0, below + i * 2.8],
    }));
    if (!beside) return [{ ...base, ...CONTROL_SYMBOL }, ...texts];
    return [
      {
        ...base,
        name: 'link',
        sizeMm: GAP_MM,
        pen: { ink: 'accent', widthMm: PEN.bold },
        shiftMm: [SUPPLY_EDGE_MM + GAP_MM / 2, 0],
      },
      { ...base, ...CONTROL_SYMBOL, shiftMm: [ASIDE_MM, 0] },
      ...texts,
    ];
  });
}

/** Set pressure and filter of a control set, such as `25 psi, 150 mesh`. */
export function settingWords(control: ControlSet, units: UnitSystem): string {
  const shown = shownValue('pressure', control.setKpa, units);
  const digits = [0, 1].find((count) => Math.abs(Number(shown.toFixed(count)) - shown) < 0.005) ?? 2;
  const filter = filterById(control.filter);
  return [
    formatQuantity('pressure', control.setKpa, units, { digits }),
    filter ? `${filter.mesh} mesh` : control.filter,
  ]
    .filter((text) => text !== '')
    .join(', ');
}

/** Valves with their names, clear of a control set that is drawn beside one. */
export function supplyMarks(supplies: Table<Supply>, controls: Table<ControlSet>): Mark[] {
  return supplies.toArray().flatMap((supply): Mark[] => {
    const owner = refKey({ table: 'supplies', id: supply.id });
    const symbol: Mark = { kind: 'symbol', owner, at: supply.at, ...SUPPLY_SYMBOL };
    if (!supply.name) return [symbol];
    const shared = controls.toArray().some((control) => distance(supply.at, control.at) <= JOINT_TOLERANCE_M);
    return [
      symbol,
      {
        kind: 'text',
        halo: 'paper',
        owner,
        at: supply.at,
        text: supply.name,
        sizeMm: 2.6,
        ink: 'line',
        anchor: shared ? 'end' : 'middle',
        shiftMm: [shared ? SUPPLY_EDGE_MM : 0, SUPPLY_EDGE_MM + 2.8],
      },
    ];
  });
}
