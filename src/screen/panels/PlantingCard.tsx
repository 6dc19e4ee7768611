import { useMemo, useRef, useState, type ReactElement } from 'react';
import { plantChoice } from '../../editor/index.ts';
import {
  addKind,
  csvText,
  kindKey,
  MOST_PLANTS,
  plantLines,
  plantListRows,
  plantTotals,
} from '../../plan/plant-list/index.ts';
import type { PlantKind } from '../../plan/records.ts';
import { QuantityField } from '../fields/QuantityField.tsx';
import { useEditor, useEditorState, useServices } from '../services.ts';
import { useWords } from '../words/index.ts';
import { Section } from './Figures.tsx';
import { PlantFieldsForm } from './plant-fields.tsx';
import { PlantLineItem } from './PlantLineItem.tsx';
import { PlantSums } from './PlantSums.tsx';

/** Lines shown before the person asks for all of them. */
const LINES_SHOWN = 40;

/** The plant list: kinds with what is placed and what is counted, from the plan and from lists that were opened. */
export function PlantingCard(): ReactElement {
  const services = useServices();
  const editor = useEditor();
  const words = useWords().planting;
  const plants = useEditorState((state) => state.history.plan.plants);
  const planting = useEditorState((state) => state.history.plan.planting);
  const lines = useMemo(() => plantLines({ plants, planting }), [plants, planting]);
  const totals = useMemo(() => plantTotals(plants, lines), [plants, lines]);
  const [open, setOpen] = useState<string | null>(null);
  const [all, setAll] = useState(false);
  const [adding, setAdding] = useState(false);
  const chooser = useRef<HTMLInputElement>(null);
  const shown = all ? lines : lines.slice(0, LINES_SHOWN);
  const save = () => {
    const rows = plantListRows({ plants, planting }, editor.store.getState().units);
    services.saveText(`\ufeff${csvText(rows)}`, words.fileName, 'text/csv;charset=utf-8');
  };
  return (
    <Section id="survey-planting" title={words.title}>
      {lines.length === 0 && <p className="quiet-text">{words.empty}</p>}
      {lines.length > 0 && (
        <ul className="plant-lines">
          {shown.map((line) => (
            <PlantLineItem
              key={line.key}
              line={line}
              open={line.key === open}
              onOpen={(key) => setOpen(key)}
            />
          ))}
        </ul>
      )}
      {shown.length < lines.length && (
        <button type="button" onClick={() => setAll(true)}>
          {words.more(lines.length)}
        </button>
      )}
      {lines.length > 0 && <PlantSums totals={totals} />}
      {adding ? (
        <NewKind kinds={planting.kinds} onClose={() => setAdding(false)} />
      ) : (
        <div className="row">
          <button type="button" title={words.openHint} onClick={() => chooser.current?.click()}>
            {words.open}
          </button>
          <button type="button" onClick={() => setAdding(true)}>
            {words.add}
          </button>
          {lines.length > 0 && (
            <button type="button" title={words.saveHint} onClick={save}>
              {words.save}
            </button>
          )}
        </div>
      )}
      <p className="field-note">{words.openHint}</p>
      <input
        ref={chooser}
        type="file"
        hidden
        data-testid="list-chooser"
        accept=".csv,.tsv,.txt,text/csv,text/tab-separated-values"
        onChange={(event) => {
          const file = event.currentTarget.files?.[0];
          event.currentTarget.value = '';
          if (file) void services.take(file);
        }}
      />
    </Section>
  );
}

/** A kind typed by hand, in the list once it is added. */
function NewKind({
  kinds,
  onClose,
}: {
  readonly kinds: readonly PlantKind[];
  onClose(): void;
}): ReactElement {
  const editor = useEditor();
  const words = useWords().planting;
  const [kind, setKind] = useState<PlantKind>(() => ({ ...plantChoice('shrub'), count: null }));
  const taken = kinds.some((one) => kindKey(one) === kindKey(kind));
  return (
    <div className="plant-form" role="group" aria-label={words.addTitle}>
      <h3 className="field-head">{words.addTitle}</h3>
      <PlantFieldsForm value={kind} onChange={(fields) => setKind({ ...kind, ...fields })} />
      <QuantityField
        label={words.count}
        kind="count"
        value={kind.count}
        nullable
        empty="–"
        max={MOST_PLANTS}
        hint={words.countHint}
        onChange={(count) => setKind({ ...kind, count })}
      />
      {taken && (
        <p className="field-note trouble" role="alert">
          {words.there}
        </p>
      )}
      <div className="row">
        <button
          type="button"
          className="primary"
          disabled={taken}
          onClick={() => {
            editor.commit(addKind(words.labels.add, kind));
            onClose();
          }}
        >
          {words.addNow}
        </button>
        <button type="button" onClick={onClose}>
          {words.drop}
        </button>
      </div>
    </div>
  );
}
