import type { Box } from '../../base/point.ts';
import type { Problem } from '../../base/result.ts';
import { plantDefaults } from '../../catalog/plants.ts';
import type { PlantClass, PlantKind } from '../records.ts';
import { classCell, countCell, lengthCell, shownCell, waterUseCell, type Cell } from './cells.ts';
import {
  columnLetters,
  isFilled,
  unitOfHeading,
  type ColumnMapping,
  type LengthUnit,
  type PlantField,
} from './columns.ts';
import { cellRead } from './csv.ts';
import { KindsOfList } from './kinds-of-list.ts';
import { placeNotes, usualNotes } from './row-notes.ts';
import type { NewPlant, Row, RowFault, RowReading } from './row.ts';

/** How a list is read. */
export interface ReadOptions {
  /** Index of the row of headings; rows before it are titles. `null`: every row holds a plant or kind. */
  readonly headerRow: number | null;
  /** Unit of figures without one, unless the heading of their column names another. */
  readonly unit: LengthUnit;
  /** Class of rows that give none; `null` makes them bad rows. */
  readonly classWhenMissing?: PlantClass | null;
  /** Kinds of which the plan knows the sizes; they stand in where a row gives none. */
  readonly known?: readonly PlantKind[];
  /** Box round what is on the plan, metres, to note places far outside of it. */
  readonly box?: Box | null;
}

/** A plant list as understood. Each filled row below the headings is a plant, a kind or a bad row. */
export interface PlantRows {
  readonly readings: readonly RowReading[];
  readonly plants: readonly NewPlant[];
  /** One for each row without a place; rows of the same kind stay apart here. */
  readonly kinds: readonly PlantKind[];
  readonly badRows: readonly RowReading[];
  /** All that is wrong, row by row. */
  readonly problems: readonly Problem[];
  /** What was taken in as it is but deserves a look. */
  readonly notes: readonly Problem[];
  /** Plants and kinds whose mature canopy the list does not give. */
  readonly assumed: ReadonlySet<NewPlant | PlantKind>;
}

/** Canopies and root balls as the fields of the plan take them, metres. */
const CANOPY = { least: 0.01, most: 60 };
const ROOT_BALL = { least: 0.01, most: 5 };
const PLACE = { least: -1e6, most: 1e6 };
const LONGEST_NAME = 2000;

/**
 * Reads rows of text as plants and kinds of plants. A row with x and y is one plant; a row without a place is a kind
 * with its count. A row with any fault is kept back whole and told, cell by cell; the other rows go on. A missing
 * mature canopy is that of the same kind elsewhere in the list or the plan, or else the usual one of its class, which
 * is noted. Never throws, whatever the cells hold.
 */
export function readPlantRows(
  rows: readonly (readonly string[])[],
  mapping: ColumnMapping,
  options: ReadOptions,
): PlantRows {
  const first = options.headerRow === null ? 0 : options.headerRow + 1;
  const read: Row[] = [];
  for (let i = first; i < rows.length; i++) {
    if (isFilled(rows[i]!)) read.push(readRow(i, rows, mapping, options));
  }
  const kinds = new KindsOfList(read, options.known ?? []);
  const assumed = new Set<NewPlant | PlantKind>();
  const usual = new Map<PlantClass, number[]>();
  const readings = read.map((row): RowReading => {
    const { at, count, ...fields } = row.read;
    const faults = [...row.faults];
    const clash = kinds.clash(row);
    if (clash) faults.push(faultIn(row.row, clash.field, rows, mapping, options, clash));
    const reading = { row: row.row, cells: row.cells, faults };
    if (faults.length > 0) return { ...reading, plant: null, kind: null };
    let canopyMatureM = fields.canopyMatureM;
    if (canopyMatureM === null) {
      canopyMatureM = kinds.canopyOf(row.read);
      if (canopyMatureM === null) {
        canopyMatureM = plantDefaults(fields.plantClass).canopyMatureM;
        const rowsOfClass = usual.get(fields.plantClass);
        if (rowsOfClass) rowsOfClass.push(row.row);
        else usual.set(fields.plantClass, [row.row]);
      }
    }
    const plant = at && { ...fields, canopyMatureM, at };
    const kind = at ? null : { ...fields, canopyMatureM, count };
    if (fields.canopyMatureM === null) assumed.add((plant ?? kind)!);
    return { ...reading, plant, kind };
  });
  const badRows = readings.filter((reading) => reading.faults.length > 0);
  return {
    readings,
    plants: readings.flatMap(({ plant }) => plant ?? []),
    kinds: readings.flatMap(({ kind }) => kind ?? []),
    badRows,
    problems: badRows.flatMap(({ faults }) => faults.map(({ problem }) => problem)),
    notes: [...usualNotes(usual, options.unit), ...placeNotes(readings, options.box ?? null)],
    assumed,
  };
}

/** Unit of the bare figures of a column: that of its heading, else the list's. */
export function unitOfColumn(
  rows: readonly (readonly string[])[],
  column: number | null,
  { headerRow, unit }: Pick<ReadOptions, 'headerRow' | 'unit'>,
): string {
  const heading = headerRow === null || column === null ? '' : (rows[headerRow]?.[column] ?? '');
  return unitOfHeading(heading) ?? unit;
}

function readRow(
  index: number,
  rows: readonly (readonly string[])[],
  mapping: ColumnMapping,
  options: ReadOptions,
): Row {
  const cells = rows[index]!;
  const faults: RowFault[] = [];
  const text = (field: PlantField): string => {
    const column = mapping[field];
    return column === null ? '' : cellRead(cells[column] ?? '');
  };
  const wrong = (field: PlantField, what: string, todo: string) =>
    faults.push(faultIn(index + 1, field, rows, mapping, options, { what, todo }));
  const taken = <T>(field: PlantField, cell: Cell<T>): T | null => {
    if (cell.ok) return cell.value;
    wrong(field, cell.what, cell.todo);
    return null;
  };
  const length = (field: PlantField, bounds: typeof CANOPY) =>
    taken(field, lengthCell(text(field), unitOfColumn(rows, mapping[field], options), bounds));

  const name = text('name').replace(/\s+/g, ' ');
  if (name.length > LONGEST_NAME) {
    wrong('name', `the name has ${name.length} characters`, `Keep it under ${LONGEST_NAME}.`);
  }
  const ownClass = taken('plantClass', classCell(text('plantClass')));
  if (ownClass === null && !faults.some(({ field }) => field === 'plantClass') && !options.classWhenMissing) {
    wrong(
      'plantClass',
      'the class is missing',
      'Write tree, shrub, perennial or ground cover, or choose a class for rows without one.',
    );
  }
  const count = taken('count', countCell(text('count')));
  const canopyMatureM = length('canopyMature', CANOPY);
  const canopyNowM = length('canopyNow', CANOPY);
  const rootBallM = length('rootBall', ROOT_BALL);
  const waterUse = taken('waterUse', waterUseCell(text('waterUse')));
  const x = length('x', PLACE);
  const y = length('y', PLACE);
  const bad = (field: PlantField) => faults.some((fault) => fault.field === field);
  if ((x === null) !== (y === null) && !bad('x') && !bad('y')) {
    const [there, missing] = x === null ? (['y', 'x'] as const) : (['x', 'y'] as const);
    wrong(
      missing,
      `${there} is ${shownCell(text(there))} but ${missing} is empty`,
      `Write both for a plant with a place, or empty ${there} for a kind without one.`,
    );
  }
  const at = x === null || y === null ? null : ([x, y] as const);
  if (at && count !== null && count !== 1) {
    wrong(
      'count',
      `the row has a place and a count of ${count}; one place holds one plant`,
      'Give each plant a row with its own x and y, or empty x and y to list them without a place.',
    );
  }
  const plantClass = ownClass ?? options.classWhenMissing ?? 'shrub';
  return {
    row: index + 1,
    cells,
    faults,
    read: { name, plantClass, canopyNowM, canopyMatureM, rootBallM, waterUse, count, at },
  };
}

function faultIn(
  row: number,
  field: PlantField,
  rows: readonly (readonly string[])[],
  mapping: ColumnMapping,
  { headerRow }: ReadOptions,
  { what, todo }: { readonly what: string; readonly todo: string },
): RowFault {
  const column = mapping[field];
  const heading = headerRow === null || column === null ? '' : (rows[headerRow]?.[column] ?? '').trim();
  const named = heading === '' ? '' : ` (${shownCell(heading).slice(1, -1)})`;
  const where = column === null ? `row ${row}` : `row ${row}, column ${columnLetters(column)}${named}`;
  return { field, column, problem: { where, what, todo } };
}
