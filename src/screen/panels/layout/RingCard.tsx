import { useMemo, useState, type ReactElement } from 'react';
import { layFill, ringEdit, waterNear, type LedFill, type RingedTree } from '../../../layout/live/index.ts';
import { ringDefaults } from '../../../layout/rings/index.ts';
import type { Plan, Plant, RingChoices } from '../../../plan/records.ts';
import { useEditor, useEditorState } from '../../services.ts';
import { useWords } from '../../words/index.ts';
import { Section } from '../Figures.tsx';
import { Tick } from './FillFields.tsx';
import { LeadFrom } from './LeadFrom.tsx';
import { LiveRings, fillsOfTrees } from './LiveRings.tsx';
import { RingFields } from './RingFields.tsx';
import { RingOutcome } from './RingOutcome.tsx';
import { useOffer } from './use-offer.ts';

interface Props {
  readonly plan: Plan;
  /** The chosen trees; at least one. */
  readonly trees: readonly Plant[];
  readonly chosen: Partial<RingChoices>;
  onChoose(chosen: Partial<RingChoices>): void;
}

/** Rings of dripline round the chosen trees: shown first, drawn as one step; those that are there are changed at once. */
export function RingCard(props: Props): ReactElement {
  const tool = useEditorState((state) => state.tool);
  const words = useWords().follow.rings;
  const { plan, trees } = props;
  const fills = useMemo(() => fillsOfTrees(plan, trees), [plan, trees]);
  if (fills.length === trees.length) return <LiveRings plan={plan} trees={trees} fills={fills} />;
  if (tool !== 'select' && tool !== 'pan') {
    return (
      <Section title={words.title(trees.length)}>
        <p className="advice">{words.notWhileDrawing}</p>
      </Section>
    );
  }
  return <DrawRings {...props} earlier={fills.length} />;
}

function DrawRings({
  plan,
  trees,
  chosen,
  onChoose,
  earlier,
}: Props & { readonly earlier: number }): ReactElement {
  const editor = useEditor();
  const words = useWords().follow;
  const usualWords = useWords().fill;
  const [wantsLead, setLead] = useState(true);
  const [leadFrom, setLeadFrom] = useState<string | undefined>();
  const usual = useMemo(() => ringDefaults(plan, trees[0]!.id), [plan, trees]);
  const ringed = useMemo(
    () =>
      trees.map(({ id }): RingedTree => ({
        plantId: id,
        choices: { ...ringDefaults(plan, id).choices, ...chosen },
        leadFrom,
      })),
    [plan, trees, chosen, leadFrom],
  );
  const laid = useMemo(
    () => ringed.map((tree) => layFill(plan, { kind: 'tree', ...tree }, { lead: wantsLead })),
    [plan, ringed, wantsLead],
  );
  const good = laid.flatMap((one): LedFill[] => (one.ok ? [one.value] : []));
  const problems = laid.flatMap((one) => (one.ok ? [] : [one.problem]));
  const starts = good.flatMap((one) => one.starts);
  const water = waterNear(plan, starts, leadFrom);
  const lead = wantsLead && water !== null;
  const edit = useMemo(
    () => (laid.some(({ ok }) => ok) ? ringEdit(ringed, wantsLead) : null),
    [laid, ringed, wantsLead],
  );

  const draw = () => {
    if (!edit) return;
    editor.select([]);
    editor.preview(null);
    editor.commit(edit);
    editor.say(words.rings.drawn(good.length));
  };
  useOffer(edit, words.rings.draw, draw);
  return (
    <Section title={words.rings.title(trees.length)}>
      <RingFields
        value={ringed[0]!.choices}
        usual={usual}
        hasNow={trees.every(({ canopyNowM }) => canopyNowM !== null)}
        onChange={(fields) => onChoose({ ...chosen, ...fields })}
      />
      {water && (
        <Tick label={words.lead(water.name)} title={words.leadHint} checked={wantsLead} onChange={setLead} />
      )}
      {lead && <LeadFrom plan={plan} starts={starts} value={leadFrom} onChange={setLeadFrom} />}
      <RingOutcome laid={good} problems={problems} />
      {earlier > 0 && <p className="field-note">{words.rings.replace(earlier)}</p>}
      <div className="row">
        <button type="button" className="primary" data-testid="rings-draw" disabled={!edit} onClick={draw}>
          {words.rings.draw}
        </button>
        {Object.keys(chosen).length > 0 && (
          <button type="button" className="quiet" onClick={() => onChoose({})}>
            {usualWords.usual}
          </button>
        )}
      </div>
    </Section>
  );
}
