import type { ReactElement } from 'react';
import { badRowsTable, csvText, type PlantRows } from '../../plan/plant-list/index.ts';
import { useServices, type PlantTable } from '../services.ts';
import { useWords } from '../words/index.ts';
import type { ListReading } from './ImportColumns.tsx';

/** More than this is counted, not listed. */
const MOST = 50;
const MOST_LETTERS = 160;

/** Rows that could not be read: their text, what is wrong with each, and the way to save them for correction. */
export function BadRows({
  list,
  table,
  reading,
}: {
  readonly list: PlantRows;
  readonly table: PlantTable;
  readonly reading: ListReading;
}): ReactElement {
  const words = useWords().planting;
  const services = useServices();
  const save = () => {
    const rows = badRowsTable(list, table.rows, reading.mapping, reading);
    // With the mark in front, spreadsheets read the letters as UTF-8.
    services.saveText(`\ufeff${csvText(rows)}`, words.badFileName, 'text/csv;charset=utf-8');
  };
  const textOf = (cells: readonly string[]) => {
    const text = cells
      .map((cell) => cell.replace(/\s+/g, ' ').trim())
      .filter((cell) => cell !== '')
      .join(' · ');
    return text.length > MOST_LETTERS ? `${text.slice(0, MOST_LETTERS - 1)}…` : text;
  };
  const more = list.badRows.length - MOST;
  return (
    <section className="import-part" aria-label={words.dialog.badRows}>
      <h3 className="field-head">{words.dialog.badRows}</h3>
      <ul className="report">
        {list.badRows.slice(0, MOST).map((row) => (
          <li key={row.row}>
            <p className="quiet-text">{textOf(row.cells)}</p>
            {row.faults.map(({ problem }, i) => (
              <p key={i}>
                <code>{problem.where}</code> {problem.what}. {problem.todo}
              </p>
            ))}
          </li>
        ))}
      </ul>
      {more > 0 && <p className="quiet-text">{words.dialog.badMore(more)}</p>}
      <div className="row">
        <button type="button" onClick={save}>
          {words.dialog.saveBad}
        </button>
      </div>
      <p className="field-note">{words.dialog.badNote}</p>
    </section>
  );
}
