import { useId, type ReactElement } from 'react';

interface Props<T extends string> {
  readonly label: string;
  readonly value: T;
  readonly options: readonly { readonly value: T; readonly label: string }[];
  readonly hint?: string | undefined;
  onChange(value: T): void;
}

/** One of a few. A value that is not among the options (an unknown catalog entry) is shown as it is. */
export function ChoiceField<T extends string>({
  label,
  value,
  options,
  hint,
  onChange,
}: Props<T>): ReactElement {
  const id = useId();
  const known = options.some((option) => option.value === value);
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <select id={id} value={value} onChange={(event) => onChange(event.currentTarget.value as T)}>
        {!known && <option value={value}>{value || '–'}</option>}
        {options.map((option) => (
          <option key={option.value} value={option.value}>
            {option.label}
          </option>
        ))}
      </select>
      {hint && <p className="field-note">{hint}</p>}
    </div>
  );
}
