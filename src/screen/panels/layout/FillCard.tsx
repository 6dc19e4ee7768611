import { useEffect, useMemo, useState, type ReactElement } from 'react';
import { boxOf } from '../../../base/point.ts';
import { formatQuantity } from '../../../base/quantity.ts';
import {
  fillBed,
  fillDefaults,
  fillEdit,
  runsInBed,
  type FillChoices,
  type Filled,
} from '../../../layout/rows/index.ts';
import type { Area, Plan } from '../../../plan/records.ts';
import { useEditor, useEditorState } from '../../services.ts';
import type { Shown } from '../../words/fill.ts';
import { useWords } from '../../words/index.ts';
import { Figures, Section } from '../Figures.tsx';
import { FillFields, Tick } from './FillFields.tsx';

/** Rows of dripline for the one bed that is chosen; what to do where none is. */
export function FillCard(): ReactElement | null {
  const words = useWords().fill;
  const plan = useEditorState((state) => state.history.plan);
  const tool = useEditorState((state) => state.tool);
  const selection = useEditorState((state) => state.selection);
  // Kept while other beds are chosen: they are mostly filled alike.
  const [chosen, choose] = useState<Partial<FillChoices>>({});
  const bed =
    selection.length === 1 && selection[0]!.table === 'areas' ? plan.areas.get(selection[0]!.id) : null;
  if (bed?.use === 'bed') {
    return tool === 'select' || tool === 'pan' ? (
      <BedFill key={bed.id} plan={plan} bed={bed} chosen={chosen} onChoose={choose} />
    ) : (
      <Section title={words.title}>
        <p className="advice">{words.notWhileDrawing}</p>
      </Section>
    );
  }
  if (selection.length > 0) return null;
  return <BedList beds={[...plan.areas].filter(({ use }) => use === 'bed')} />;
}

/** Beds to choose from: on the plan a bed that is full of rows is hard to press, and keys do not reach it. */
function BedList({ beds }: { readonly beds: readonly Area[] }): ReactElement {
  const editor = useEditor();
  const words = useWords().fill;
  return (
    <Section title={words.title}>
      <p className="advice">{beds.length > 0 ? words.empty : words.noBed}</p>
      {beds.length > 0 && (
        <div className="row">
          {beds.map(({ id, name }) => (
            <button key={id} type="button" onClick={() => editor.select([{ table: 'areas', id }])}>
              {name.trim() || `${words.bed} ${id}`}
            </button>
          ))}
        </div>
      )}
    </Section>
  );
}

interface Props {
  readonly plan: Plan;
  readonly bed: Area;
  readonly chosen: Partial<FillChoices>;
  onChoose(chosen: Partial<FillChoices>): void;
}

function BedFill({ plan, bed, chosen, onChoose }: Props): ReactElement {
  const editor = useEditor();
  const words = useWords().fill;
  const usual = useMemo(() => fillDefaults(plan, bed.id), [plan, bed.id]);
  const choices = useMemo<FillChoices>(() => ({ ...usual.choices, ...chosen }), [usual, chosen]);
  const others = useMemo(() => bedsReaching(plan, bed), [plan, bed]);
  const earlier = useMemo(() => runsInBed(plan, bed.id).length, [plan, bed.id]);
  const [wantsReplace, setReplace] = useState(true);
  const replace = wantsReplace && earlier > 0;
  const filled = useMemo(() => fillBed(plan, bed.id, choices), [plan, bed.id, choices]);
  const edit = useMemo(
    () => (filled.ok ? fillEdit(plan, bed.id, filled.value, { replace }) : null),
    [plan, bed.id, filled, replace],
  );

  useEffect(() => {
    editor.preview(edit);
    return () => editor.preview(null);
  }, [editor, edit]);

  const draw = () => {
    if (!edit || !filled.ok) return;
    editor.select([]);
    editor.preview(null);
    editor.commit(edit);
    editor.say(words.drawn(filled.value.figures.rows, filled.value.starts.length));
  };
  return (
    <Section title={words.title}>
      <FillFields
        value={choices}
        usual={usual}
        others={others}
        onChange={(fields) => onChoose({ ...chosen, ...fields })}
      />
      {filled.ok ? (
        <FillOutcome filled={filled.value} />
      ) : (
        <p className="advice" role="alert">
          {filled.problem.what}. {filled.problem.todo}
        </p>
      )}
      {earlier > 0 && <Tick label={words.replace(earlier)} checked={wantsReplace} onChange={setReplace} />}
      <div className="row">
        <button type="button" className="primary" data-testid="fill-draw" disabled={!edit} onClick={draw}>
          {words.draw}
        </button>
        {Object.keys(chosen).length > 0 && (
          <button type="button" className="quiet" onClick={() => onChoose({})}>
            {words.usual}
          </button>
        )}
      </div>
    </Section>
  );
}

function FillOutcome({ filled: { figures, notes } }: { readonly filled: Filled }): ReactElement {
  const words = useWords().fill;
  const units = useEditorState((state) => state.units);
  const shown: Shown = {
    rate: (mmPerH) => formatQuantity('rate', mmPerH, units),
    length: (metres) => formatQuantity('length', metres, units),
    spacing: (metres) => formatQuantity('spacing', metres, units),
    pressure: (kPa) => formatQuantity('pressure', kPa, units),
    flow: (lph) => formatQuantity('zoneFlow', lph, units),
  };
  const { rows, pieces, rowSpacingM, lowerSpacingM } = figures;
  return (
    <>
      <Figures
        rows={[
          [words.figures.rows, pieces === rows ? String(rows) : `${rows}, ${words.pieces(pieces)}`],
          [
            words.figures.spacing,
            `${shown.spacing(rowSpacingM)}${lowerSpacingM === null ? '' : `, ${words.figures.lower} ${shown.spacing(lowerSpacingM)}`}`,
          ],
          [words.figures.length, shown.length(figures.lengthM)],
          ...(figures.headerLengthM > 0
            ? [[words.figures.headers, shown.length(figures.headerLengthM)] as const]
            : []),
          [words.figures.emitters, String(figures.emitters)],
          [words.figures.flow, shown.flow(figures.flowLph)],
          [words.figures.rate, shown.rate(figures.rateMmPerH), words.figures.rateTitle],
          [words.figures.water, formatQuantity('volume', figures.volumeL, units)],
        ]}
      />
      {notes.length > 0 && (
        <ul className="plain-list" data-testid="fill-notes">
          {notes.map((note) => (
            <li key={note.kind}>{words.note(note, shown)}</li>
          ))}
        </ul>
      )}
    </>
  );
}

/** Other beds whose box meets that of a bed: they may be left out of it. */
function bedsReaching(plan: Plan, bed: Area): readonly Area[] {
  const own = boxOf(bed.outline);
  if (!own) return [];
  return [...plan.areas].filter(({ id, use, outline }) => {
    const box = id !== bed.id && use === 'bed' ? boxOf(outline) : null;
    return (
      box !== null && box.minX < own.maxX && own.minX < box.maxX && box.minY < own.maxY && own.minY < box.maxY
    );
  });
}
