import { useId, useState, type ReactElement } from 'react';
import { flushSync } from 'react-dom';
import { KEPT_BY } from './field-keys.ts';

interface Props {
  readonly label: string;
  readonly value: string;
  readonly long?: boolean;
  readonly placeholder?: string;
  onChange(value: string): void;
}

/** A line or a few lines of text; takes effect on leaving the field (a line also on Enter). */
export function TextField({ label, value, long = false, placeholder = '', onChange }: Props): ReactElement {
  const [typed, setTyped] = useState<string | null>(null);
  const id = useId();
  const finish = () => {
    if (typed !== null && typed !== value) onChange(typed);
    setTyped(null);
  };
  const shared = {
    id,
    value: typed ?? value,
    placeholder,
    maxLength: 2000,
    'data-settled': typed === null,
    onBlur: finish,
    onChange: (event: { currentTarget: { value: string } }) => setTyped(event.currentTarget.value),
  };
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      {long ? (
        <textarea rows={3} {...shared} />
      ) : (
        <input
          type="text"
          autoComplete="off"
          {...shared}
          onKeyDown={(event) => {
            const keep = KEPT_BY[event.key];
            if (!keep || (keep === 'restore' && typed === null)) return;
            const input = event.currentTarget;
            event.preventDefault();
            flushSync(keep === 'take' ? finish : () => setTyped(null));
            input.select();
          }}
        />
      )}
    </div>
  );
}
