import { useMemo, useState, type ReactElement } from 'react';
import {
  changedLimits,
  ruleStates,
  unknownLimits,
  USUAL_LIMITS,
  type RuleState,
} from '../../../derive/checks/index.ts';
import type { Notice } from '../../../derive/results.ts';
import { useEditor, useEditorState } from '../../services.ts';
import { useWords } from '../../words/index.ts';
import { Section } from '../Figures.tsx';
import { RuleItem } from './RuleItem.tsx';

const FILTERS = ['every', 'speaking', 'changed'] as const;
type Filter = (typeof FILTERS)[number];
type States = ReturnType<typeof ruleStates>;

/** All rules with how the plan stands before each, and their limits; folded until it is asked for. */
export function ChecksCard({ notices }: { readonly notices: readonly Notice[] }): ReactElement {
  const words = useWords().checks.card;
  const plan = useEditorState((state) => state.history.plan);
  const results = useEditorState((state) => state.answer?.results);
  const [opened, setOpened] = useState(false);
  const states = useMemo(() => results && ruleStates(plan, results, notices), [plan, results, notices]);
  const count = (kind: RuleState['kind']) => states?.filter(({ state }) => state.kind === kind).length ?? 0;
  return (
    <Section title={words.title}>
      {!states && <p className="quiet-text">{words.solving}</p>}
      {states && (
        <details
          className="checks-card"
          data-testid="checks-card"
          onToggle={(event) => {
            // Those of the rules inside come up here too.
            if (event.target === event.currentTarget) setOpened(event.currentTarget.open);
          }}
        >
          <summary>
            {words.summary(states.length, count('speaks'), count('accepted'), count('not told'))}
          </summary>
          {opened && <Rules states={states} />}
        </details>
      )}
    </Section>
  );
}

function Rules({ states }: { readonly states: States }): ReactElement {
  const editor = useEditor();
  const words = useWords().checks.card;
  const checks = useEditorState((state) => state.history.plan.checks);
  const [filter, setFilter] = useState<Filter>('every');
  const changed = useMemo(() => changedLimits({ checks }), [checks]);
  const unknown = useMemo(() => unknownLimits({ checks }), [checks]);
  const own = new Set(changed.map(({ limit }) => limit.key));
  const passes: Readonly<Record<Filter, (entry: States[number]) => boolean>> = {
    every: () => true,
    speaking: ({ state }) => state.kind === 'speaks' || state.kind === 'accepted',
    changed: ({ rule }) => rule.limits.some(({ key }) => own.has(key)),
  };
  const shown = states.filter(passes[filter]);
  const further = shown.find(({ rule }) => rule.number === null);
  return (
    <>
      <p className="field-note">{words.note}</p>
      <div className="row" role="group" aria-label={words.filter}>
        {FILTERS.map((one) => (
          <button key={one} type="button" aria-pressed={filter === one} onClick={() => setFilter(one)}>
            {words[one]}
          </button>
        ))}
      </div>
      {filter === 'speaking' && shown.length === 0 && <p className="quiet-text">{words.noneSpeaking}</p>}
      {filter === 'changed' && shown.length === 0 && <p className="quiet-text">{words.noneChanged}</p>}
      {unknown.length > 0 && <p className="field-note">{words.unknown(unknown.join(', '))}</p>}
      <ul className="rules">
        {shown.map((entry) => (
          <li key={entry.rule.says[0]} data-rule={entry.rule.says[0]} data-state={entry.state.kind}>
            {entry === further && <p className="field-head">{words.further}</p>}
            <RuleItem {...entry} />
          </li>
        ))}
      </ul>
      {changed.length > 0 && (
        <div className="row">
          <button
            type="button"
            onClick={() => {
              editor.commit(USUAL_LIMITS);
              editor.say(words.allUsualDone);
            }}
          >
            {words.allUsual(changed.length)}
          </button>
        </div>
      )}
    </>
  );
}
