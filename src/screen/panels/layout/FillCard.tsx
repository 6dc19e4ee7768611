import { useMemo, useState, type ReactElement } from 'react';
import { boxOf } from '../../../base/point.ts';
import { layFill, waterNear } from '../../../layout/live/index.ts';
import {
  clearedOf,
  fillDefaults,
  fillEdit,
  runsReplaced,
  type FillChoices,
} from '../../../layout/rows/index.ts';
import type { Area, Fill, Plan } from '../../../plan/records.ts';
import { useEditor, useEditorState } from '../../services.ts';
import { useWords } from '../../words/index.ts';
import { Section } from '../Figures.tsx';
import { FillFields, Tick } from './FillFields.tsx';
import { FillOutcome } from './FillOutcome.tsx';
import { LeadFrom } from './LeadFrom.tsx';
import { LiveFill } from './LiveFill.tsx';
import { useOffer } from './use-offer.ts';

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
    const fill = fillOf(plan, bed.id);
    if (fill) return <LiveFill key={fill.id} plan={plan} fill={fill} others={bedsReaching(plan, bed)} />;
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

/** The fill that a bed has; of several the one drawn last. */
function fillOf(plan: Plan, areaId: string): (Fill & { kind: 'bed' }) | null {
  let found: (Fill & { kind: 'bed' }) | null = null;
  for (const fill of plan.fills) if (fill.kind === 'bed' && fill.areaId === areaId) found = fill;
  return found;
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
  const follow = useWords().follow;
  const usual = useMemo(() => fillDefaults(plan, bed.id), [plan, bed.id]);
  const choices = useMemo<FillChoices>(() => ({ ...usual.choices, ...chosen }), [usual, chosen]);
  const others = useMemo(() => bedsReaching(plan, bed), [plan, bed]);
  const earlier = useMemo(() => runsReplaced(plan, bed.id).length, [plan, bed.id]);
  const [wantsReplace, setReplace] = useState(true);
  const replace = wantsReplace && earlier > 0;
  const [wantsLead, setLead] = useState(true);
  const [leadFrom, setLeadFrom] = useState<string | undefined>();
  // What goes is gone while the rows are laid: nothing may hang on it.
  const clear = useMemo(() => (replace ? clearedOf(plan, bed.id) : plan), [plan, bed.id, replace]);
  const filled = useMemo(
    () => layFill(clear, { kind: 'bed', areaId: bed.id, choices, leadFrom }, { lead: wantsLead }),
    [clear, bed.id, choices, leadFrom, wantsLead],
  );
  const water = filled.ok ? waterNear(plan, filled.value.starts, leadFrom) : null;
  const lead = wantsLead && water !== null;
  const edit = useMemo(
    () =>
      filled.ok
        ? fillEdit(plan, bed.id, filled.value, { replace, choices, lead: wantsLead, leadFrom })
        : null,
    [plan, bed.id, filled, replace, choices, wantsLead, leadFrom],
  );

  const draw = () => {
    if (!edit || !filled.ok) return;
    editor.select([]);
    editor.preview(null);
    editor.commit(edit);
    const { figures, starts, leads } = filled.value;
    const isJoined = lead && starts.length > 0 && leads.tooFar === 0;
    editor.say(
      isJoined
        ? follow.joined(words.rows(figures.rows), water.name)
        : words.drawn(figures.rows, starts.length),
    );
  };
  useOffer(edit, words.draw, draw);
  return (
    <Section title={words.title}>
      <FillFields
        value={choices}
        usual={usual}
        others={others}
        onChange={(fields) => onChoose({ ...chosen, ...fields })}
      />
      {water && (
        <Tick
          label={follow.lead(water.name)}
          title={follow.leadHint}
          checked={wantsLead}
          onChange={setLead}
        />
      )}
      {filled.ok && lead && (
        <LeadFrom plan={plan} starts={filled.value.starts} value={leadFrom} onChange={setLeadFrom} />
      )}
      {filled.ok ? (
        <FillOutcome
          figures={filled.value.figures}
          notes={filled.value.notes}
          leads={[filled.value.leads]}
          askedM={choices.rowSpacingM}
        />
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
