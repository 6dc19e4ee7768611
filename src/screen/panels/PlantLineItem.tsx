import { useId, type ReactElement } from 'react';
import { formatQuantity } from '../../base/quantity.ts';
import {
  changeLine,
  countKind,
  lineKey,
  MOST_PLANTS,
  removeLine,
  type PlantLine,
} from '../../plan/plant-list/index.ts';
import { QuantityField } from '../fields/QuantityField.tsx';
import { useEditor, useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { PlantFieldsForm } from './plant-fields.tsx';

/** One kind of the plant list: its figures, its plants to be selected or placed, and its fields. */
export function PlantLineItem({
  line,
  open,
  onOpen,
}: {
  readonly line: PlantLine;
  readonly open: boolean;
  /** Opens the fields of the line with that key; null closes them. */
  onOpen(key: string | null): void;
}): ReactElement {
  const editor = useEditor();
  const all = useWords();
  const words = all.planting;
  const units = useEditorState((state) => state.units);
  const formId = useId();
  const { kind, ids } = line;
  const name = kind.name || words.unnamed[kind.plantClass];
  const use = line.waterVaries
    ? words.useVaries
    : kind.waterUse
      ? words.use[kind.waterUse]
      : words.useUnknown;
  const { count, ...fields } = kind;
  const placed =
    count === null
      ? `${ids.length.toLocaleString('en-US')} ${words.placed}`
      : `${ids.length.toLocaleString('en-US')} ${words.of} ${count.toLocaleString('en-US')}`;
  return (
    <li>
      <div className="plant-line">
        <button
          type="button"
          className="link"
          disabled={ids.length === 0}
          title={ids.length ? words.select : words.selectNone}
          onClick={() => {
            editor.chooseTool('select');
            editor.select(ids.map((id) => ({ table: 'plants', id })));
          }}
        >
          {name}
        </button>
        <span className="plant-count" title={count === null ? undefined : words.placedOf}>
          {placed}
        </span>
        <span className="field-note">
          {all.classes[kind.plantClass]}, {formatQuantity('length', kind.canopyMatureM, units)}, {use}
        </span>
        <div className="row">
          <button
            type="button"
            title={words.placeHint}
            aria-label={`${words.place}: ${name}`}
            onClick={() => editor.chooseTool('plant', { plant: fields })}
          >
            {words.place}
          </button>
          <button
            type="button"
            aria-label={`${words.change}: ${name}`}
            aria-expanded={open}
            aria-controls={open ? formId : undefined}
            onClick={() => onOpen(open ? null : line.key)}
          >
            {words.change}
          </button>
        </div>
      </div>
      {open && (
        <div id={formId} className="plant-form" role="group" aria-label={`${words.change}: ${name}`}>
          <PlantFieldsForm
            value={fields}
            onChange={(changed) => {
              editor.commit(changeLine(words.labels.change, line, changed));
              // The line goes by what was changed: its fields stay open under the new name.
              onOpen(lineKey({ ...kind, ...changed }));
            }}
          />
          <QuantityField
            label={words.count}
            kind="count"
            value={count}
            nullable
            empty="–"
            max={MOST_PLANTS}
            hint={words.countHint}
            onChange={(next) => editor.commit(countKind(words.labels.count, kind, next))}
          />
          <div className="row">
            <button
              type="button"
              onClick={() => {
                onOpen(null);
                editor.commit(removeLine(words.labels.remove, line));
              }}
            >
              {ids.length ? words.removePlants(ids.length) : words.removeKind}
            </button>
          </div>
        </div>
      )}
    </li>
  );
}
