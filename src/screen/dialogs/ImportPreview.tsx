import type { ReactElement } from 'react';
import { formatQuantity, type UnitSystem } from '../../base/quantity.ts';
import {
  PLANT_FIELDS,
  type PlantField,
  type PlantRows,
  type RowReading,
} from '../../plan/plant-list/index.ts';
import { useWords } from '../words/index.ts';
import type { ListReading } from './ImportColumns.tsx';

const ROWS_SHOWN = 6;

/** A cell may hold pages of text. */
const MOST_LETTERS = 60;
const short = (text: string) =>
  text.length > MOST_LETTERS ? `${text.slice(0, MOST_LETTERS - 1)}…` : text || '–';

/** The first rows as they are understood; cells with a fault as they are written. */
export function ImportPreview({
  list,
  reading,
  units,
}: {
  readonly list: PlantRows;
  readonly reading: ListReading;
  readonly units: UnitSystem;
}): ReactElement | null {
  const all = useWords();
  const words = all.planting.dialog;
  if (list.readings.length === 0) return null;
  const fields = PLANT_FIELDS.filter(
    (field) =>
      reading.mapping[field] !== null || (field === 'plantClass' && reading.classWhenMissing !== null),
  );
  const shown = list.readings.slice(0, ROWS_SHOWN);
  const length = (metres: number | null) => (metres === null ? '–' : formatQuantity('length', metres, units));
  const understood = (row: RowReading, field: PlantField): string => {
    const kind = row.plant ?? row.kind;
    const column = reading.mapping[field];
    if (!kind) return column === null ? '–' : short((row.cells[column] ?? '').trim());
    switch (field) {
      case 'name':
        return short(kind.name);
      case 'plantClass':
        return all.classes[kind.plantClass];
      case 'count':
        return row.kind?.count === null ? '–' : String(row.kind?.count ?? 1);
      case 'canopyMature':
        return length(kind.canopyMatureM) + (list.assumed.has(kind as never) ? ' *' : '');
      case 'canopyNow':
        return length(kind.canopyNowM);
      case 'rootBall':
        return length(kind.rootBallM);
      case 'waterUse':
        return kind.waterUse === null ? '–' : all.waterUses[kind.waterUse];
      case 'x':
      case 'y':
        return length(row.plant?.at[field === 'x' ? 0 : 1] ?? null);
    }
  };
  return (
    <section className="import-part">
      <h3 className="field-head">{words.preview}</h3>
      <div className="import-table">
        <table className="schedule">
          <thead>
            <tr>
              <th scope="col">{words.row}</th>
              <th scope="col">{words.as}</th>
              {fields.map((field) => (
                <th key={field} scope="col">
                  {words.fields[field]}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {shown.map((row) => (
              <tr key={row.row} data-bad={row.faults.length > 0}>
                <th scope="row">{row.row}</th>
                <td>{row.plant ? words.plant : row.kind ? words.kind : words.bad}</td>
                {fields.map((field) => (
                  <td key={field} data-bad={row.faults.some((fault) => fault.field === field)}>
                    {understood(row, field)}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p className="field-note">{words.previewNote(shown.length, list.readings.length)}</p>
    </section>
  );
}
