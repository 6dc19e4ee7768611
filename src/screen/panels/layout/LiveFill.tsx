import { useMemo, useState, type ReactElement } from 'react';
import type { Problem } from '../../../base/result.ts';
import { laidAsItIs, layFill, waterNear } from '../../../layout/live/index.ts';
import { fillDefaults, type FillChoices } from '../../../layout/rows/index.ts';
import { change } from '../../../plan/edits/index.ts';
import type { Area, Fill, Plan } from '../../../plan/records.ts';
import { useEditor } from '../../services.ts';
import { useWords } from '../../words/index.ts';
import { Section } from '../Figures.tsx';
import { FillFields } from './FillFields.tsx';
import { FillOutcome } from './FillOutcome.tsx';
import { LeadFrom } from './LeadFrom.tsx';
import { ByHand, ForgetButton, LiveLead, NotChanged } from './LiveButtons.tsx';

interface Props {
  readonly plan: Plan;
  readonly fill: Fill & { readonly kind: 'bed' };
  readonly others: readonly Area[];
}

/** The rows of a bed that follow it: a value that is changed changes them at once. */
export function LiveFill({ plan, fill, others }: Props): ReactElement {
  const editor = useEditor();
  const words = useWords().follow;
  const [problem, tell] = useState<Problem | null>(null);
  const usual = useMemo(() => fillDefaults(plan, fill.areaId), [plan, fill.areaId]);
  const laid = useMemo(() => (fill.byHand ? null : laidAsItIs(plan, fill)), [plan, fill]);
  if (fill.byHand) {
    return (
      <Section title={words.title}>
        <ByHand fills={[fill]} text={words.byHand} anew={words.anew} forgotten={words.forgotten} />
      </Section>
    );
  }
  const set = (fields: Partial<FillChoices>) => {
    const choices = { ...fill.choices, ...fields };
    const tried = layFill(plan, { ...fill, choices }, { lead: false, own: fill, quiet: true });
    tell(tried.ok ? null : tried.problem);
    if (tried.ok) editor.commit(change(words.label, 'fills', [fill.id], { choices }));
  };
  const water = laid?.ok
    ? (laid.value.leads.water ?? waterNear(plan, laid.value.starts, fill.leadFrom))
    : null;
  return (
    <Section title={words.title}>
      <p className="quiet-text">{words.text}</p>
      <FillFields value={fill.choices} usual={usual} others={others} onChange={set} />
      <NotChanged problem={problem} />
      <LiveLead fills={[fill]} name={water?.name ?? null} />
      {laid?.ok && fill.leadIds && (
        <LeadFrom
          plan={plan}
          starts={laid.value.starts}
          value={fill.leadFrom}
          onChange={(leadFrom) => editor.commit(change(words.label, 'fills', [fill.id], { leadFrom }))}
        />
      )}
      {laid?.ok && (
        <FillOutcome
          figures={laid.value.figures}
          notes={laid.value.notes}
          leads={[laid.value.leads]}
          askedM={fill.choices.rowSpacingM}
        />
      )}
      <div className="row">
        <ForgetButton
          ids={[fill.id]}
          label={words.forget}
          title={words.forgetHint}
          forgotten={words.forgotten}
        />
      </div>
    </Section>
  );
}
