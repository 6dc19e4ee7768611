import { parseQuantity, shownValue, type UnitSystem } from '../../base/quantity.ts';
import type { Plan, Plant, PlantKind } from '../records.ts';
import {
  columnsByHeading,
  HEADINGS,
  LENGTH_FIELDS,
  PLANT_FIELDS,
  unitOfHeading,
  type ColumnMapping,
  type PlantField,
} from './columns.ts';
import { unitOfColumn, type PlantRows, type ReadOptions } from './read-rows.ts';

/** A heading of the program's own, with the unit of a length. */
function ownHeading(field: PlantField, unit: string): string {
  return LENGTH_FIELDS.has(field) ? `${HEADINGS[field]} (${unit})` : HEADINGS[field];
}

/** A length as a bare figure that reads back as the same metres. */
function figure(metres: number | null, units: UnitSystem): string {
  if (metres === null) return '';
  const shown = shownValue('length', metres, units);
  for (let digits = 3; digits <= 15; digits++) {
    const text = String(Number(shown.toFixed(digits)));
    // No exponents: the reader knows none.
    if (/e/.test(text)) continue;
    const back = parseQuantity('length', text, units);
    if (back.ok && Math.abs(back.value - metres) <= 1e-9) return text;
  }
  return shown.toFixed(9);
}

/**
 * The plant list of a plan as rows of text with headings: first the kinds of the list with their counts, then each
 * placed plant with its place. Reading them into an empty plan gives the same plants and kinds.
 */
export function plantListRows(plan: Pick<Plan, 'plants' | 'planting'>, units: UnitSystem): string[][] {
  const unit = units === 'us' ? 'ft' : 'm';
  const row = (kind: Omit<PlantKind, 'count'>, count: number | null, at: Plant['at'] | null): string[] => [
    kind.name,
    kind.plantClass === 'groundcover' ? 'ground cover' : kind.plantClass,
    count === null ? '' : String(count),
    figure(kind.canopyMatureM, units),
    figure(kind.canopyNowM, units),
    figure(kind.rootBallM, units),
    kind.waterUse ?? '',
    figure(at?.[0] ?? null, units),
    figure(at?.[1] ?? null, units),
  ];
  return [
    PLANT_FIELDS.map((field) => ownHeading(field, unit)),
    ...plan.planting.kinds.map((kind) => row(kind, kind.count, null)),
    ...[...plan.plants].map((plant) => row(plant, null, plant.at)),
  ];
}

/** Heading of the column that tells why a row was kept back. */
export const REASON = 'reason';

/**
 * The bad rows of a list as rows of text, cells as they were, with a last column that tells why. Headings that the
 * program would not read the same way by itself are replaced by its own, so that the corrected rows can be read
 * without setting the columns again.
 */
export function badRowsTable(
  list: Pick<PlantRows, 'badRows'>,
  rows: readonly (readonly string[])[],
  mapping: ColumnMapping,
  options: Pick<ReadOptions, 'headerRow' | 'unit'>,
): string[][] {
  const old = options.headerRow === null ? [] : rows[options.headerRow]!;
  const reasonAt = old.findIndex((heading) => heading.trim().toLowerCase() === REASON);
  const width = Math.max(old.length, ...list.badRows.map(({ cells }) => cells.length));
  const columns = Array.from({ length: width }, (_, i) => i).filter((i) => i !== reasonAt);
  const guessed = columnsByHeading(old);
  const headings = columns.map((column) => {
    const field = PLANT_FIELDS.find((one) => mapping[one] === column);
    const heading = (old[column] ?? '').trim();
    // A heading that was not to be read must not be read next time either.
    if (!field) return PLANT_FIELDS.some((one) => guessed[one] === column) ? '' : heading;
    const same = guessed[field] === column;
    if (!LENGTH_FIELDS.has(field)) return same ? heading : ownHeading(field, '');
    const unit = unitOfColumn(rows, column, options);
    return same && unitOfHeading(heading) !== null
      ? heading
      : same
        ? `${heading} (${unit})`
        : ownHeading(field, unit);
  });
  return [
    [...headings.map((heading, i) => heading || `column ${i + 1}`), REASON],
    ...list.badRows.map(({ cells, faults }) => [
      ...columns.map((column) => cells[column] ?? ''),
      faults.map(({ problem }) => `${problem.where}: ${problem.what}. ${problem.todo}`).join(' | '),
    ]),
  ];
}
