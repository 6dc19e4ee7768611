import type { Box } from '../../base/point.ts';
import { formatQuantity } from '../../base/quantity.ts';
import type { Problem } from '../../base/result.ts';
import { plantDefaults } from '../../catalog/plants.ts';
import type { PlantClass } from '../records.ts';
import type { LengthUnit } from './columns.ts';
import type { RowReading } from './row.ts';

/** `row 3`, `rows 3 and 4`, `rows 3, 4 and 12 more`. */
export function rowWords(rows: readonly number[]): string {
  if (rows.length === 1) return `row ${rows[0]}`;
  const shown = rows.slice(0, rows.length > 6 ? 5 : rows.length - 1);
  const rest = rows.length - shown.length;
  return `rows ${shown.join(', ')} and ${rest > 1 ? `${rest} more` : rows.at(-1)}`;
}

/** Tells which rows got the usual size of their class. */
export function usualNotes(usual: ReadonlyMap<PlantClass, readonly number[]>, unit: LengthUnit): Problem[] {
  const units = unit === 'ft' || unit === 'in' ? 'us' : 'metric';
  return [...usual].map(([plantClass, rows]) => {
    const { canopyMatureM, source } = plantDefaults(plantClass);
    return {
      where: rowWords(rows),
      what: `no mature canopy is given; a usual ${plantClass === 'groundcover' ? 'ground cover' : plantClass} of ${formatQuantity('length', canopyMatureM, units)} is assumed (${source})`,
      todo: 'Set the size in the plant list.',
    };
  });
}

/** How far outside of all that is drawn a place may lie before it is noted, metres. */
const FAR_M = 30;

/** Tells which places lie far outside of what is drawn, and which rows stand where an earlier one does. */
export function placeNotes(readings: readonly RowReading[], box: Box | null): Problem[] {
  return [...farNotes(readings, box), ...doubledNotes(readings)];
}

function doubledNotes(readings: readonly RowReading[]): Problem[] {
  const places = new Set<string>();
  const doubled = readings.filter(({ plant }) => {
    if (!plant) return false;
    // To the millimetre.
    const place = plant.at.map((metres) => Math.round(metres * 1000)).join('/');
    return places.size === places.add(place).size;
  });
  if (doubled.length === 0) return [];
  return [
    {
      where: rowWords(doubled.map(({ row }) => row)),
      what: 'the place is that of an earlier row',
      todo: 'Both are kept. Take one out if it is the same plant.',
    },
  ];
}

function farNotes(readings: readonly RowReading[], box: Box | null): Problem[] {
  if (!box) return [];
  const far = readings.filter(({ plant }) => {
    if (!plant) return false;
    const [x, y] = plant.at;
    const margin = Math.max(FAR_M, box.maxX - box.minX, box.maxY - box.minY);
    return x < box.minX - margin || x > box.maxX + margin || y < box.minY - margin || y > box.maxY + margin;
  });
  if (far.length === 0) return [];
  return [
    {
      where: rowWords(far.map(({ row }) => row)),
      what: 'the place lies far outside of what is drawn',
      todo: 'It is kept. Check the unit of x and y, and that they start from the zero of the plan.',
    },
  ];
}
