import { useRef, useState, type ReactElement } from 'react';
import { formatBound, formatQuantity } from '../../../base/quantity.ts';
import { limitEdit, type Limit, type Rule, type RuleState } from '../../../derive/checks/index.ts';
import { shownSource } from '../../../derive/wording.ts';
import { QuantityField } from '../../fields/QuantityField.tsx';
import { useEditor, useEditorState } from '../../services.ts';
import { useWords } from '../../words/index.ts';

/** One rule: number, title and state; opened its source and its limits. */
export function RuleItem({ rule, state }: { readonly rule: Rule; readonly state: RuleState }): ReactElement {
  const all = useWords().checks;
  const words = all.card;
  const [opened, setOpened] = useState(false);
  return (
    <details className="rule" onToggle={(event) => setOpened(event.currentTarget.open)}>
      <summary>
        <span className="rule-number">{rule.number ?? '+'}</span>
        <span>{rule.title}</span>
        <span
          className="rule-state"
          data-state={state.kind}
          data-worst={state.kind === 'speaks' ? state.worst : undefined}
        >
          {useStateWord(state)}
        </span>
      </summary>
      {opened && (
        <div className="rule-body">
          {state.kind === 'not told' && <p className="field-note">{words.missing(state.missing)}</p>}
          <p className="field-note">
            {words.worst[rule.severity]} {all.sourceIs(shownSource(rule.source))}
          </p>
          {rule.limits.length === 0 && <p className="field-note">{words.noLimits}</p>}
          {rule.limits.map((limit) => (
            <LimitField key={limit.key} limit={limit} />
          ))}
        </div>
      )}
    </details>
  );
}

function useStateWord(state: RuleState): string {
  const { states } = useWords().checks.card;
  switch (state.kind) {
    case 'speaks':
      return states.speaks(state.count);
    case 'accepted':
      return states.accepted(state.count);
    case 'in order':
      return states.inOrder;
    case 'not told':
      return states.notTold;
  }
}

/** A limit of the plan: the usual figure with its source, or the plan's own, marked, with the way back. */
function LimitField({ limit }: { readonly limit: Limit }): ReactElement {
  const editor = useEditor();
  const words = useWords().checks.card;
  const units = useEditorState((state) => state.units);
  const value = useEditorState(({ history }) => {
    const { limits } = history.plan.checks;
    return Object.hasOwn(limits, limit.key) ? limits[limit.key]! : limit.usual;
  });
  const figure = (of: number) => formatQuantity(limit.kind, of, units);
  const box = useRef<HTMLDivElement>(null);
  const isOwn = value !== limit.usual;
  const isOutside = !(value >= limit.least && value <= limit.most);
  const [least, most] = [
    formatBound(limit.kind, limit.least, units, 'least'),
    formatBound(limit.kind, limit.most, units, 'most'),
  ];
  const range = words.range(least, most);
  const set = (next: number | null) => {
    editor.commit(limitEdit(limit, next));
    editor.say(words.set(limit.label, figure(next ?? limit.usual)));
  };
  return (
    <div className="limit" ref={box} data-own={isOwn} data-limit={limit.key}>
      <QuantityField
        label={limit.label}
        kind={limit.kind}
        value={value}
        min={limit.least}
        max={limit.most}
        hint={
          isOwn
            ? `${words.own(figure(limit.usual))} ${range}`
            : `${words.usual(figure(limit.usual), shownSource(limit.source))} ${range}`
        }
        onChange={(next) => next !== null && set(next)}
      />
      {isOutside && (
        <p className="advice" data-severity="warning">
          {words.outside(least, most)}
        </p>
      )}
      {isOwn && (
        <button
          type="button"
          aria-label={words.toUsualLabel(limit.label, figure(limit.usual))}
          onClick={() => {
            set(null);
            // The button goes with what it took back.
            box.current?.querySelector('input')?.focus();
          }}
        >
          {words.toUsual(figure(limit.usual))}
        </button>
      )}
    </div>
  );
}
