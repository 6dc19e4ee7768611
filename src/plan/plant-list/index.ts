export { csvText } from './csv.ts';
export {
  columnLetters,
  columnsByHeading,
  firstRows,
  guessColumns,
  LENGTH_FIELDS,
  LENGTH_UNITS,
  PLANT_FIELDS,
  type ColumnMapping,
  type GuessedColumns,
  type LengthUnit,
  type PlantField,
} from './columns.ts';
export {
  addKind,
  changeLine,
  countKind,
  importPlants,
  notStandingYet,
  removeLine,
  type ImportChoices,
} from './edits.ts';
export { kindKey, MOST_PLANTS, oneLineEach } from './kinds.ts';
export {
  lineKey,
  plantLines,
  plantTotals,
  type PlantLine,
  type PlantSum,
  type PlantTotals,
} from './lines.ts';
export { readPlantRows, unitOfColumn, type PlantRows, type ReadOptions } from './read-rows.ts';
export type { NewPlant, RowReading } from './row.ts';
export { badRowsTable, plantListRows } from './write-rows.ts';
export { plantClassNamed, waterUseNamed } from './words.ts';
