import type { ReactElement } from 'react';
import {
  columnLetters,
  columnsByHeading,
  firstRows,
  LENGTH_FIELDS,
  LENGTH_UNITS,
  PLANT_FIELDS,
  unitOfColumn,
  type ColumnMapping,
  type LengthUnit,
} from '../../plan/plant-list/index.ts';
import type { PlantClass } from '../../plan/records.ts';
import { ChoiceField } from '../fields/ChoiceField.tsx';
import { useServices, type PlantTable } from '../services.ts';
import { useWords } from '../words/index.ts';

/** How a list is read: where its headings are, what its columns mean, what stands in for what is missing. */
export interface ListReading {
  readonly headerRow: number | null;
  readonly mapping: ColumnMapping;
  readonly unit: LengthUnit;
  readonly classWhenMissing: PlantClass | null;
}

interface Props {
  readonly table: PlantTable;
  readonly reading: ListReading;
  onChange(reading: ListReading): void;
}

const CLASSES: readonly PlantClass[] = ['tree', 'shrub', 'perennial', 'groundcover'];
const SEPARATORS = [',', ';', '\t', '|'] as const;
/** Columns that can be chosen; nobody finds one among more. */
const MOST_COLUMNS = 200;
const shortened = (text: string) => (text.length > 28 ? `${text.slice(0, 26)}…` : text);

/** The settings by which a plant list is read, with what was guessed. */
export function ImportColumns({ table, reading, onChange }: Props): ReactElement {
  const words = useWords().planting.dialog;
  const { plantImport } = useServices();
  const { headerRow, mapping } = reading;
  const width = Math.min(
    MOST_COLUMNS,
    table.rows.reduce((most, row) => Math.max(most, row.length), 0),
  );
  const heading = (column: number) =>
    headerRow === null ? '' : (table.rows[headerRow]?.[column] ?? '').replace(/\s+/g, ' ').trim();
  const columns = Array.from({ length: width }, (_, column) => ({
    value: String(column),
    label: heading(column)
      ? `${columnLetters(column)}: ${shortened(heading(column))}`
      : `${words.column} ${columnLetters(column)}`,
  }));
  const setHeaderRow = (next: number | null) => {
    const named = next === null ? null : columnsByHeading(table.rows[next] ?? []);
    // A row that names nothing tells nothing: the columns stay as they are.
    const tells = named !== null && PLANT_FIELDS.some((field) => named[field] !== null);
    onChange({ ...reading, headerRow: next, mapping: tells ? named : mapping });
  };
  /** A column means one thing: what held it before gives it up. */
  const setColumn = (field: (typeof PLANT_FIELDS)[number], column: number | null) => {
    const next = { ...mapping, [field]: column };
    for (const other of PLANT_FIELDS) {
      if (other !== field && column !== null && next[other] === column) next[other] = null;
    }
    onChange({ ...reading, mapping: next });
  };
  return (
    <>
      <section className="import-part">
        <h3 className="field-head">{words.layout}</h3>
        <div className="import-grid">
          <ChoiceField
            label={words.headings}
            value={headerRow === null ? '' : String(headerRow)}
            options={[
              { value: '', label: words.noHeadings },
              ...firstRows(table.rows).map((row) => ({
                value: String(row),
                label: words.headingRow(row + 1),
              })),
            ]}
            onChange={(row) => setHeaderRow(row === '' ? null : Number(row))}
          />
          <ChoiceField
            label={words.separator}
            value={table.delimiter}
            options={SEPARATORS.map((sign) => ({ value: sign as string, label: words.separators[sign] }))}
            onChange={(sign) => void plantImport.separateBy(sign)}
          />
          <ChoiceField
            label={words.classless}
            value={reading.classWhenMissing ?? ''}
            options={[
              { value: '', label: words.classlessNo },
              ...CLASSES.map((id) => ({ value: id, label: words.classlessAs[id] })),
            ]}
            onChange={(id) =>
              onChange({ ...reading, classWhenMissing: id === '' ? null : (id as PlantClass) })
            }
          />
          <ChoiceField
            label={words.unit}
            value={reading.unit}
            options={LENGTH_UNITS.map((unit) => ({ value: unit, label: words.units[unit] }))}
            hint={words.unitHint}
            onChange={(unit) => onChange({ ...reading, unit })}
          />
        </div>
      </section>
      <section className="import-part">
        <h3 className="field-head">{words.columns}</h3>
        <div className="import-grid">
          {PLANT_FIELDS.map((field) => {
            const column = mapping[field];
            const unit = unitOfColumn(table.rows, column, reading);
            const own = LENGTH_FIELDS.has(field) && column !== null && unit !== reading.unit;
            return (
              <ChoiceField
                key={field}
                label={words.fields[field] + (own ? ` (${unit})` : '')}
                value={column === null ? '' : String(column)}
                options={[{ value: '', label: words.notThere }, ...columns]}
                onChange={(chosen) => setColumn(field, chosen === '' ? null : Number(chosen))}
              />
            );
          })}
        </div>
      </section>
    </>
  );
}
