import { useId, useState, type ReactElement } from 'react';
import { flushSync } from 'react-dom';
import { formatClock, parseClock } from './clock.ts';
import { KEPT_BY } from './field-keys.ts';

interface Props {
  readonly label: string;
  /** Minutes after midnight; null is not set. */
  readonly value: number | null;
  /** Shown while there is no value. */
  readonly empty: string;
  onChange(value: number | null): void;
}

/**
 * A time of day. Takes effect on Enter or on leaving the field; what cannot be read stays in the field with the reason
 * under it, and nothing is changed. Cleared it is not set.
 */
export function TimeField({ label, value, empty, onChange }: Props): ReactElement {
  const [typed, setTyped] = useState<string | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const id = useId();
  const shown = value === null ? '' : formatClock(value);
  const settle = () => {
    setTyped(null);
    setProblem(null);
  };
  const finish = () => {
    if (typed === null || typed === shown) return settle();
    if (typed.trim() === '') {
      settle();
      if (value !== null) onChange(null);
      return;
    }
    const read = parseClock(typed);
    if (!read.ok) {
      setProblem(`${read.problem.what}. ${read.problem.todo}`);
      return;
    }
    settle();
    if (read.value !== value) onChange(read.value);
  };
  return (
    <div className="field" data-wrong={problem !== null}>
      <label htmlFor={id}>{label}</label>
      <input
        id={id}
        type="text"
        inputMode="text"
        autoComplete="off"
        spellCheck={false}
        value={typed ?? shown}
        placeholder={empty}
        aria-invalid={problem !== null}
        data-settled={typed === null}
        aria-describedby={problem ? `${id}-note` : undefined}
        onFocus={(event) => event.currentTarget.select()}
        onChange={(event) => setTyped(event.currentTarget.value)}
        onBlur={finish}
        onKeyDown={(event) => {
          const keep = KEPT_BY[event.key];
          if (!keep || (keep === 'restore' && typed === null)) return;
          const input = event.currentTarget;
          event.preventDefault();
          flushSync(keep === 'take' ? finish : settle);
          input.select();
        }}
      />
      {problem && (
        <p id={`${id}-note`} className="field-note" role="alert">
          {problem}
        </p>
      )}
    </div>
  );
}
