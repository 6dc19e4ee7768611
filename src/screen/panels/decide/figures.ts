import { formatQuantity, type QuantityKind, type UnitSystem } from '../../../base/quantity.ts';

const KINDS: Readonly<Record<string, QuantityKind>> = {
  'mm/h': 'rate',
  m: 'length',
  'L/h': 'zoneFlow',
  kPa: 'pressure',
  L: 'volume',
  m2: 'area',
};

/** A figure of a reason in the person's units: `unit` is the SI unit that the reason names, empty for a count. */
export function reasonFigure(value: number, unit: string, units: UnitSystem): string {
  const kind = KINDS[unit];
  if (kind) return formatQuantity(kind, value, units);
  if (unit === '%') return formatQuantity('percent', value, units);
  const number = Number.isInteger(value) ? String(value) : value.toFixed(1);
  return unit === '' ? number : `${number} ${unit}`;
}

/** Small volumes, such as those of dead legs, with two digits. */
export function smallVolume(litres: number, units: UnitSystem): string {
  return formatQuantity('volume', litres, units, { digits: 2 });
}
