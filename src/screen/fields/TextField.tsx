import { useId, useState, type ReactElement } from 'react';

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
            if (event.key === 'Enter') finish();
            if (event.key === 'Escape') setTyped(null);
          }}
        />
      )}
    </div>
  );
}
