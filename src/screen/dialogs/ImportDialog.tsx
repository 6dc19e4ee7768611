import { useMemo, useState, useSyncExternalStore, type ReactElement } from 'react';
import { planBox } from '../../drawing/plan-box.ts';
import { showAll } from '../../editor/index.ts';
import {
  guessColumns,
  importPlants,
  kindKey,
  notStandingYet,
  oneLineEach,
  readPlantRows,
  type ImportChoices,
} from '../../plan/plant-list/index.ts';
import { useEditor, useEditorState, useServices, type PlantTable } from '../services.ts';
import { useWords } from '../words/index.ts';
import { Dialog } from './Dialog.tsx';
import { BadRows } from './ImportBadRows.tsx';
import { ImportColumns, type ListReading } from './ImportColumns.tsx';
import { ImportPreview } from './ImportPreview.tsx';

/** The plant list that was opened, until it is taken in or dropped. */
export function ImportDialog(): ReactElement | null {
  const { plantImport } = useServices();
  const table = useSyncExternalStore(plantImport.subscribe, plantImport.table);
  if (!table) return null;
  return <TableDialog table={table} onClose={plantImport.close} />;
}

/** How a table is read at first: as its headings say, figures in the unit of the screen. */
function firstReading(table: PlantTable, units: 'us' | 'metric'): ListReading {
  const { headerRow, mapping } = guessColumns(table.rows);
  return { headerRow, mapping, unit: units === 'us' ? 'ft' : 'm', classWhenMissing: null };
}

function TableDialog({ table, onClose }: { readonly table: PlantTable; onClose(): void }): ReactElement {
  const editor = useEditor();
  const words = useWords().planting;
  const units = useEditorState((state) => state.units);
  // The plan as it was when the list was opened: taking it in must not change what the dialog tells.
  const [plan, setPlan] = useState(() => editor.store.getState().history.plan);
  const [reading, setReading] = useState(() => firstReading(table, units));
  const [choices, setChoices] = useState<ImportChoices>({ counts: 'replace', standing: 'skip' });
  const [taken, setTaken] = useState<{ plants: number; kinds: number } | null>(null);
  const [shown, setShown] = useState(table);
  if (shown !== table) {
    // Another file, or the same one cut into columns anew: all begins again, and the focus stays.
    setShown(table);
    setPlan(editor.store.getState().history.plan);
    setReading(firstReading(table, units));
    setTaken(null);
  }
  const box = useMemo(() => planBox(plan), [plan]);
  const list = useMemo(
    () => readPlantRows(table.rows, reading.mapping, { ...reading, known: plan.planting.kinds, box }),
    [table, reading, plan, box],
  );
  const kinds = useMemo(() => oneLineEach(list.kinds).kinds, [list]);
  const fresh = useMemo(() => notStandingYet(plan, list.plants), [plan, list]);
  const standing = list.plants.length - fresh.length;
  const inPlan = useMemo(() => new Set(plan.planting.kinds.map(kindKey)), [plan]);
  const known = kinds.some((kind) => kind.count !== null && inPlan.has(kindKey(kind)));
  const plantsToTake = choices.standing === 'skip' ? fresh.length : list.plants.length;

  const takeIn = () => {
    editor.commit(importPlants(words.labels.import, list, choices));
    editor.show('survey');
    if (!box) showAll(editor);
    editor.say(words.dialog.taken(plantsToTake, kinds.length));
    // Rows that were kept back stay on the screen until the person has seen them off.
    if (list.badRows.length) setTaken({ plants: plantsToTake, kinds: kinds.length });
    else onClose();
  };
  const bad = <BadRows list={list} table={table} reading={reading} />;

  if (taken) {
    return (
      <Dialog title={words.dialog.title} className="plant-import" onClose={onClose}>
        <p role="status">
          {words.dialog.taken(taken.plants, taken.kinds)} {words.dialog.left}
        </p>
        {bad}
        <form method="dialog" className="row">
          <button type="submit" className="primary" autoFocus>
            {words.dialog.close}
          </button>
        </form>
      </Dialog>
    );
  }
  const notes = [...table.problems, ...list.notes];
  return (
    <Dialog title={words.dialog.title} className="plant-import" onClose={onClose}>
      <p>
        {words.dialog.file}: <strong>{table.name}</strong>{' '}
        <span className="quiet-text">({table.encoding})</span>
      </p>
      <p role="status">
        {list.readings.length
          ? words.dialog.found(list.plants.length, kinds.length, list.badRows.length)
          : words.dialog.nothing}
      </p>
      <ImportColumns table={table} reading={reading} onChange={setReading} />
      <ImportPreview list={list} reading={reading} units={units} />
      {list.badRows.length > 0 && bad}
      {notes.length > 0 && (
        <section className="import-part">
          <h3 className="field-head">{words.dialog.notes}</h3>
          <ul className="report">
            {notes.map((note, i) => (
              <li key={i}>
                <p>
                  <code>{note.where}</code> {note.what}
                </p>
                <p className="quiet-text">{note.todo}</p>
              </li>
            ))}
          </ul>
        </section>
      )}
      {known && (
        <div className="row" role="radiogroup" aria-label={words.dialog.counts}>
          <span className="quiet-text">{words.dialog.counts}:</span>
          {(['replace', 'add'] as const).map((counts) => (
            <label key={counts} className="import-tick">
              <input
                type="radio"
                name="counts"
                checked={choices.counts === counts}
                onChange={() => setChoices({ ...choices, counts })}
              />
              {counts === 'replace' ? words.dialog.countsReplace : words.dialog.countsAdd}
            </label>
          ))}
        </div>
      )}
      {standing > 0 && (
        <label className="import-tick">
          <input
            type="checkbox"
            checked={choices.standing === 'skip'}
            onChange={(event) =>
              setChoices({ ...choices, standing: event.currentTarget.checked ? 'skip' : 'add' })
            }
          />
          {words.dialog.standing(standing)}
        </label>
      )}
      <div className="row import-commands">
        <button
          type="button"
          className="primary"
          disabled={plantsToTake + kinds.length === 0}
          onClick={takeIn}
        >
          {words.dialog.takeIn(plantsToTake, kinds.length)}
        </button>
        <button type="button" onClick={onClose}>
          {words.dialog.cancel}
        </button>
      </div>
    </Dialog>
  );
}
