import { useId, type ReactElement } from 'react';
import { useWords } from '../words/index.ts';

interface Props<T extends string> {
  readonly label: string;
  readonly value: T;
  readonly options: readonly { readonly value: T; readonly label: string }[];
  readonly hint?: string | undefined;
  onChange(value: T): void;
}

/** Letters for which there is room beside the label; longer options get the line below it. */
const ROOM_BESIDE = 16;

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
  const long = options.some((option) => option.label.length > ROOM_BESIDE);
  return (
    <div className="field" data-long={long}>
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

interface OptionalProps {
  readonly label: string;
  readonly value: string | null;
  /** What stands for the value among the options; the value itself when it is none of them. */
  readonly known: string | null | undefined;
  readonly options: readonly { readonly value: string; readonly label: string }[];
  readonly hint?: string | undefined;
  onChange(value: string | null): void;
}

/** One of a few, or not measured. */
export function OptionalChoice({
  label,
  value,
  known,
  options,
  hint,
  onChange,
}: OptionalProps): ReactElement {
  const words = useWords();
  return (
    <ChoiceField
      label={label}
      value={known ?? value ?? ''}
      options={[{ value: '', label: words.service.unmeasured }, ...options]}
      hint={hint}
      onChange={(next) => onChange(next === '' ? null : next)}
    />
  );
}
