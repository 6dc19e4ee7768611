import { useMemo, useState, type ReactElement } from 'react';
import type { Problem } from '../../../base/result.ts';
import { laidAsItIs, layFill, waterNear, type LedFill } from '../../../layout/live/index.ts';
import { ringDefaults } from '../../../layout/rings/index.ts';
import { change, together } from '../../../plan/edits/index.ts';
import type { Fill, Plan, Plant, RingChoices } from '../../../plan/records.ts';
import { useEditor } from '../../services.ts';
import { useWords } from '../../words/index.ts';
import { Section } from '../Figures.tsx';
import { LeadFrom } from './LeadFrom.tsx';
import { ByHand, ForgetButton, LiveLead, NotChanged } from './LiveButtons.tsx';
import { RingFields } from './RingFields.tsx';
import { RingOutcome } from './RingOutcome.tsx';

type TreeFill = Fill & { readonly kind: 'tree' };

/** The fills of some trees, at most one for each: the one drawn last. */
export function fillsOfTrees(plan: Plan, trees: readonly Plant[]): readonly TreeFill[] {
  const own = new Map<string, TreeFill>();
  for (const fill of plan.fills) if (fill.kind === 'tree') own.set(fill.plantId, fill);
  return trees.flatMap(({ id }) => own.get(id) ?? []);
}

interface Props {
  readonly plan: Plan;
  readonly trees: readonly Plant[];
  /** One for each tree. */
  readonly fills: readonly TreeFill[];
}

/** Rings that follow their trees: a value that is changed changes them at once, all chosen ones together. */
export function LiveRings({ plan, trees, fills }: Props): ReactElement {
  const editor = useEditor();
  const words = useWords().follow;
  const { rings } = words;
  const [problem, tell] = useState<Problem | null>(null);
  const usual = useMemo(() => ringDefaults(plan, trees[0]!.id), [plan, trees]);
  const laid = useMemo(() => fills.map((fill) => laidAsItIs(plan, fill)), [plan, fills]);
  if (fills.some(({ byHand }) => byHand)) {
    return (
      <Section title={rings.title(trees.length)}>
        <ByHand
          fills={fills}
          text={rings.byHand(trees.length)}
          anew={rings.anew}
          forgotten={rings.forgotten}
        />
      </Section>
    );
  }
  const set = (fields: Partial<RingChoices>) => {
    const next = fills.map((fill) => ({ fill, choices: { ...fill.choices, ...fields } }));
    const tried = next.map(({ fill, choices }) =>
      layFill(plan, { ...fill, choices }, { lead: false, own: fill, quiet: true }),
    );
    const failed = tried.find((one) => !one.ok);
    tell(failed && !failed.ok ? failed.problem : null);
    if (failed) return;
    editor.commit(
      together(
        words.label,
        next.map(({ fill, choices }) => change('', 'fills', [fill.id], { choices })),
      ),
    );
  };
  const good = laid.flatMap((one): LedFill[] => (one.ok ? [one.value] : []));
  const starts = good.flatMap((one) => one.starts);
  const [from] = new Set(fills.map(({ leadFrom }) => leadFrom));
  const water = good.find(({ leads }) => leads.water)?.leads.water ?? waterNear(plan, starts, from);
  return (
    <Section title={rings.title(trees.length)}>
      <p className="quiet-text">{rings.text(trees.length)}</p>
      <RingFields
        value={fills[0]!.choices}
        usual={usual}
        hasNow={trees.every(({ canopyNowM }) => canopyNowM !== null)}
        onChange={set}
      />
      <NotChanged problem={problem} />
      <LiveLead fills={fills} name={water?.name ?? null} />
      {fills.every(({ leadIds }) => leadIds) && (
        <LeadFrom
          plan={plan}
          starts={starts}
          value={from}
          onChange={(leadFrom) =>
            editor.commit(
              change(
                words.label,
                'fills',
                fills.map(({ id }) => id),
                { leadFrom },
              ),
            )
          }
        />
      )}
      <RingOutcome laid={good} problems={laid.flatMap((one) => (one.ok ? [] : [one.problem]))} />
      <div className="row">
        <ForgetButton
          ids={fills.map(({ id }) => id)}
          label={rings.forget}
          title={rings.forgetHint}
          forgotten={rings.forgotten}
        />
      </div>
    </Section>
  );
}
