import type { Problem } from '../../base/result.ts';
import type { Plant, PlantKind } from '../records.ts';
import type { PlantField } from './columns.ts';

/** A plant that has a place and no id yet. */
export type NewPlant = Omit<Plant, 'id'>;

/** What is wrong with one cell of a row. */
export interface RowFault {
  readonly field: PlantField;
  /** Index of the column; `null` where no column is set for the field. */
  readonly column: number | null;
  readonly problem: Problem;
}

/** One filled row below the headings. */
export interface RowReading {
  /** Number of the row as spreadsheets show it, from 1. */
  readonly row: number;
  readonly cells: readonly string[];
  /** A plant with a place, a kind without one, or neither when there are faults. */
  readonly plant: NewPlant | null;
  readonly kind: PlantKind | null;
  readonly faults: readonly RowFault[];
}

/** A row with its cells read, before rows are compared. */
export interface Row {
  readonly row: number;
  readonly cells: readonly string[];
  /** Filled while the row is read. */
  readonly faults: RowFault[];
  readonly read: Omit<PlantKind, 'canopyMatureM'> & {
    readonly canopyMatureM: number | null;
    readonly at: Plant['at'] | null;
  };
}
