import type { ReactElement } from 'react';
import { formatQuantity } from '../../base/quantity.ts';
import { polygonArea } from '../../base/polygon.ts';
import { countedAs, shownPlan } from '../../editor/index.ts';
import { change } from '../../plan/edits/index.ts';
import type { AreaUse, Plan, RecordOf, Ref, TableName } from '../../plan/records.ts';
import { ChoiceField } from '../fields/ChoiceField.tsx';
import { QuantityField } from '../fields/QuantityField.tsx';
import { TextField } from '../fields/TextField.tsx';
import { useEditor, useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { ControlFields } from './control-fields.tsx';
import { EmitterForm } from './emitter-form.tsx';
import { BetweenLevels, FallForm } from './fall-form.tsx';
import { Figures, Section } from './Figures.tsx';
import { HeadForm } from './head-form.tsx';
import { ChosenTools } from './layout/ChosenTools.tsx';
import { LateralForm } from './lateral-form.tsx';
import { InlineFields, TubingField } from './outlet-fields.tsx';
import { PlantFieldsForm } from './plant-fields.tsx';
import { CheckValveForm, FlushEndForm, LinePartForm } from './run-part-forms.tsx';
import { SupplyForm } from './supply-form.tsx';

const USES: readonly AreaUse[] = ['bed', 'paving', 'lawn', 'building'];

interface FormProps<K extends TableName> {
  readonly record: RecordOf<K>;
  /** Writes to this record, or to all chosen ones of its table. */
  set(fields: Partial<Omit<RecordOf<K>, 'id'>>): void;
}

function AreaForm({ record, set }: FormProps<'areas'>): ReactElement {
  const words = useWords();
  const units = useEditorState((state) => state.units);
  // The outline as it is while a corner is dragged.
  const { outline, holes } = useEditorState((state) => shownPlan(state).areas.get(record.id)) ?? record;
  return (
    <>
      <TextField label={words.fields.name} value={record.name} onChange={(name) => set({ name })} />
      <ChoiceField
        label={words.fields.use}
        value={record.use}
        options={USES.map((id) => ({ value: id, label: words.uses[id] }))}
        onChange={(use) => set({ use })}
      />
      <Figures rows={[[words.select.area, formatQuantity('area', polygonArea(outline, holes), units)]]} />
    </>
  );
}

function RunForm({ record, set }: FormProps<'runs'>): ReactElement {
  const words = useWords();
  const units = useEditorState((state) => state.units);
  const result = useEditorState((state) => state.answer?.results.runs.get(record.id));
  return (
    <>
      <TextField label={words.fields.name} value={record.name} onChange={(name) => set({ name })} />
      <TubingField
        use={record.inline ? 'inline' : 'blank'}
        value={record.tubing}
        onChange={(tubing) => set({ tubing })}
      />
      {record.inline && <InlineFields value={record.inline} onChange={(inline) => set({ inline })} />}
      {result && (
        <Figures
          rows={[
            [words.select.length, formatQuantity('length', result.lengthM, units)],
            [words.select.outlets, String(result.outletCount)],
            [words.select.runFlow, formatQuantity('zoneFlow', result.flowLph, units)],
            [words.select.inlet, formatQuantity('pressure', result.inletKpa, units)],
            [words.select.worst, formatQuantity('pressure', result.worstKpa, units)],
          ]}
        />
      )}
    </>
  );
}

function ControlForm({ record, set }: FormProps<'controls'>): ReactElement {
  const words = useWords();
  return (
    <>
      <TextField label={words.fields.name} value={record.name} onChange={(name) => set({ name })} />
      <ControlFields value={record} onChange={set} />
    </>
  );
}

function LevelForm({ record, set }: FormProps<'levels'>): ReactElement {
  const words = useWords();
  return (
    <QuantityField
      label={words.fields.height}
      kind="length"
      value={record.zM}
      min={-1000}
      max={9000}
      onChange={(zM) => zM !== null && set({ zM })}
    />
  );
}

function PlantForm({ record, set }: FormProps<'plants'>): ReactElement {
  const plan = useEditorState((state) => state.history.plan);
  const selection = useEditorState((state) => state.selection);
  const all = selection.flatMap(({ table, id }) => (table === 'plants' ? (plan.plants.get(id) ?? []) : []));
  return <PlantFieldsForm value={record} all={all.length ? all : [record]} onChange={set} />;
}

const FORMS: { readonly [K in Exclude<TableName, 'fills'>]: (props: FormProps<K>) => ReactElement } = {
  areas: AreaForm,
  levels: LevelForm,
  falls: FallForm,
  laterals: LateralForm,
  heads: HeadForm,
  plants: PlantForm,
  runs: RunForm,
  checkValves: CheckValveForm,
  flushEnds: FlushEndForm,
  lineParts: LinePartForm,
  emitters: EmitterForm,
  controls: ControlForm,
  supplies: SupplyForm,
};

/** Tables whose records are changed together when several are chosen. */
const ALIKE: readonly TableName[] = ['plants', 'emitters', 'heads', 'laterals', 'checkValves'];

/** The single table of a selection, and its first record; null for mixed selections. */
function common(
  plan: Plan,
  selection: readonly Ref[],
): { table: TableName; record: { readonly id: string } } | null {
  const first = selection[0];
  const record = first && plan[first.table].get(first.id);
  return first && record && selection.every((ref) => ref.table === first.table)
    ? { table: first.table, record }
    : null;
}

/** Name that a person gave a record, where it has one. */
const nameOf = (record: { readonly id: string; readonly name?: unknown }): string =>
  typeof record.name === 'string' ? record.name.trim() : '';

/** What is chosen on the plan, with its facts to be changed. */
export function Inspector(): ReactElement | null {
  const editor = useEditor();
  const words = useWords();
  const selection = useEditorState((state) => state.selection);
  const plan = useEditorState((state) => state.history.plan);
  if (!selection.length) return null;
  const one = common(plan, selection);
  const count = selection.length;
  const title = one
    ? count === 1
      ? [`${words.tables[one.table]} ${one.record.id}`, nameOf(one.record)].filter(Boolean).join(' · ')
      : `${count} × ${words.tables[one.table]}`
    : `${count} ${words.select.many}`;
  const Form =
    one && one.table !== 'fills' ? (FORMS[one.table] as (props: FormProps<TableName>) => ReactElement) : null;
  const alike = one && (count === 1 || ALIKE.includes(one.table));
  return (
    <Section title={title}>
      {Form && one && alike && (
        <Form
          key={`${one.table}/${one.record.id}/${count}`}
          record={one.record as RecordOf<TableName>}
          set={(fields) => {
            const before = editor.store.getState().history;
            editor.commit(
              change(
                `Change ${words.tables[one.table]}`,
                one.table,
                selection.map((ref) => ref.id),
                fields,
              ),
            );
            const { history, saying } = editor.store.getState();
            if (count > 1 && history !== before && !saying) {
              editor.say(words.hand.changed(countedAs(selection)));
            }
          }}
        />
      )}
      {one?.table === 'levels' && count === 2 && (
        <BetweenLevels
          a={one.record as RecordOf<'levels'>}
          b={plan.levels.get(selection[1]!.id) ?? (one.record as RecordOf<'levels'>)}
        />
      )}
      <ChosenTools />
      <div className="row">
        {one?.table !== 'flushEnds' && (
          <button type="button" onClick={() => editor.duplicateSelection(0.5)}>
            {words.select.duplicate}
          </button>
        )}
        <button type="button" onClick={() => editor.removeSelection()}>
          {words.select.delete}
        </button>
        <button type="button" className="quiet" onClick={() => editor.select([])}>
          {words.select.deselect}
        </button>
      </div>
    </Section>
  );
}
