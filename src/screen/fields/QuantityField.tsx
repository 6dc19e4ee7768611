import { useId, useRef, useState, type ReactElement } from 'react';
import { flushSync } from 'react-dom';
import {
  formatBound,
  formatExact,
  formatQuantity,
  parseQuantity,
  type QuantityKind,
} from '../../base/quantity.ts';
import { useEditorState } from '../services.ts';
import { KEPT_BY } from './field-keys.ts';

interface Props {
  readonly label: string;
  readonly kind: QuantityKind;
  /** In the inside unit of the kind; null is not measured. */
  readonly value: number | null;
  /** Whether an emptied field means "not measured". */
  readonly nullable?: boolean;
  readonly min?: number;
  readonly max?: number;
  /** Shown while there is no value. */
  readonly empty?: string;
  readonly hint?: string;
  onChange(value: number | null): void;
}

/**
 * A number with its unit, typed in any unit of its kind. Takes effect on Enter or on leaving the field; what
 * cannot be read stays in the field with the reason under it, and nothing is changed.
 */
export function QuantityField({
  label,
  kind,
  value,
  nullable = false,
  min,
  max,
  empty = 'not measured',
  hint,
  onChange,
}: Props): ReactElement {
  const units = useEditorState((state) => state.units);
  const [typed, setTyped] = useState<string | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const [focused, setFocused] = useState(false);
  const fresh = useRef(false);
  const id = useId();
  // While it is edited the field holds every digit, else as many as can be read at a glance.
  const exact = value === null ? '' : formatExact(kind, value, units);
  const shown = focused ? exact : value === null ? '' : formatQuantity(kind, value, units);

  const finish = () => {
    if (typed === null || typed === exact) {
      setTyped(null);
      setProblem(null);
      return;
    }
    if (nullable && typed.trim() === '') {
      setTyped(null);
      setProblem(null);
      if (value !== null) onChange(null);
      return;
    }
    const read = parseQuantity(kind, typed, units);
    if (!read.ok) {
      setProblem(`${read.problem.what}. ${read.problem.todo}`);
      return;
    }
    const limit =
      min !== undefined && read.value < min ? min : max !== undefined && read.value > max ? max : null;
    if (limit !== null) {
      setProblem(
        limit === min
          ? `At least ${formatBound(kind, limit, units, 'least')}.`
          : `At most ${formatBound(kind, limit, units, 'most')}.`,
      );
      return;
    }
    setTyped(null);
    setProblem(null);
    onChange(read.value);
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
        placeholder={nullable ? empty : ''}
        aria-invalid={problem !== null}
        data-settled={typed === null}
        aria-describedby={problem || hint ? `${id}-note` : undefined}
        onFocus={(event) => {
          const input = event.currentTarget;
          // At once, so that a fast typist's first letter meets the selected text.
          fresh.current = true;
          flushSync(() => setFocused(true));
          input.select();
        }}
        onMouseUp={(event) => {
          // The press that gave the focus would otherwise end by setting the caret.
          if (fresh.current) event.currentTarget.select();
          fresh.current = false;
        }}
        onChange={(event) => setTyped(event.currentTarget.value)}
        onBlur={() => {
          setFocused(false);
          finish();
        }}
        onKeyDown={(event) => {
          const keep = KEPT_BY[event.key];
          if (!keep || (keep === 'restore' && typed === null)) return;
          const input = event.currentTarget;
          event.preventDefault();
          // The focus stays, so that no key that follows means what is chosen on the plan.
          flushSync(() => {
            if (keep === 'take') return finish();
            setTyped(null);
            setProblem(null);
          });
          input.select();
        }}
      />
      {(problem ?? hint) && (
        <p id={`${id}-note`} className="field-note" role={problem ? 'alert' : undefined}>
          {problem ?? hint}
        </p>
      )}
    </div>
  );
}
