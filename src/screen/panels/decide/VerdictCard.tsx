import type { ReactElement } from 'react';
import type { Reason, Verdict, ZoneVerdict } from '../../../derive/existing/verdict/index.ts';
import { capitalised, shownSource } from '../../../derive/wording.ts';
import { useEditorState } from '../../services.ts';
import { useWords } from '../../words/index.ts';
import { Section } from '../Figures.tsx';
import { useShow } from '../use-show.ts';
import { reasonFigure } from './figures.ts';

interface Props {
  readonly verdict: Verdict;
  /** The zone that is looked at; null shows what holds for the plan without any zone. */
  readonly zone: ZoneVerdict | null;
}

/** Whether to convert the zone, in one line, and why; then what is missing to decide. */
export function VerdictCard({ verdict, zone }: Props): ReactElement {
  const words = useWords().decide;
  const { outcome, reasons, clear } = zone ?? verdict;
  const isDrawn = useEditorState(
    ({ history: { plan } }) => plan.emitters.size > 0 || [...plan.runs].some(({ inline }) => inline !== null),
  );
  // Nothing speaks for drip, but much was not measured that might.
  const open = outcome === 'leave' && !reasons.some(({ blocks }) => blocks) && verdict.missing.length > 0;
  const groups = [
    { title: words.blocks, list: reasons.filter((reason) => reason.blocks) },
    { title: words.speaksFor, list: reasons.filter(({ blocks, speaks }) => !blocks && speaks === 'for') },
    {
      title: words.speaksAgainst,
      list: reasons.filter(({ blocks, speaks }) => !blocks && speaks === 'against'),
    },
    {
      title: words.onCondition,
      list: reasons.filter(({ blocks, speaks }) => !blocks && speaks === 'condition'),
    },
  ].filter(({ list }) => list.length > 0);
  return (
    <Section
      title={zone?.zone ? `${words.verdict}: ${words.zone.toLowerCase()} ${zone.zone}` : words.verdict}
    >
      <p className="verdict" data-outcome={open ? 'open' : outcome} data-testid="verdict">
        <strong>{open ? words.open : words.outcomes[outcome]}</strong>{' '}
        {open
          ? words.openText
          : outcome === 'leave' && isDrawn
            ? words.leaveAsDrawn
            : words.outcomeTexts[outcome]}
      </p>
      {isDrawn && <p className="field-note">{words.asDrawn}</p>}
      {groups.map(({ title, list }) => (
        <div key={title} className="working">
          <h3 className="field-head">{title}</h3>
          <ReasonList reasons={list} />
        </div>
      ))}
      {clear.length > 0 && (
        <details className="calculator">
          <summary>{words.clear(clear.length)}</summary>
          <ReasonList reasons={clear} />
        </details>
      )}
      {verdict.missing.length > 0 && (
        <div className="working" data-testid="missing">
          <h3 className="field-head">{words.missing}</h3>
          <ul className="plain-list">
            {verdict.missing.map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </div>
      )}
      <p className="field-note">{words.guarantee}</p>
    </Section>
  );
}

function ReasonList({ reasons }: { readonly reasons: readonly Reason[] }): ReactElement {
  return (
    <ul className="reasons">
      {reasons.map((reason, i) => (
        <ReasonItem key={`${reason.rule}${i}`} reason={reason} />
      ))}
    </ul>
  );
}

function ReasonItem({ reason }: { readonly reason: Reason }): ReactElement {
  const words = useWords().decide;
  const units = useEditorState((state) => state.units);
  const show = useShow();
  const { rule, message, value, limit, unit, source, waysOut, refs, blocks } = reason;
  const figures = [
    value === null ? '' : `${words.found} ${reasonFigure(value, unit, units)}`,
    limit === null ? '' : `${words.limit} ${reasonFigure(limit, unit, units)}`,
  ].filter(Boolean);
  return (
    <li data-blocks={blocks} data-rule={rule}>
      {refs.length > 0 ? (
        <button type="button" className="link" onClick={() => show(refs)}>
          {message}
        </button>
      ) : (
        <p>{message}</p>
      )}
      {waysOut.length > 0 && (
        <ul className="plain-list" aria-label={words.waysOut}>
          {waysOut.map((way) => (
            <li key={way}>{way}</li>
          ))}
        </ul>
      )}
      <p className="field-note">
        {figures.length > 0 && <span className="reason-figures">{figures.join(', ')}. </span>}
        {capitalised(shownSource(source))}
      </p>
    </li>
  );
}
