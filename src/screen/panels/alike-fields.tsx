import type { ReactElement } from 'react';
import type { QuantityKind } from '../../base/quantity.ts';
import { ChoiceField } from '../fields/ChoiceField.tsx';
import { QuantityField } from '../fields/QuantityField.tsx';
import { TextField } from '../fields/TextField.tsx';
import { useWords } from '../words/index.ts';
import type { Alike } from './alike.ts';

/*
 * Fields for several records at once: where the records differ the field says so and shows no value; what is typed
 * goes to all of them.
 */

interface QuantityProps {
  readonly label: string;
  readonly kind: QuantityKind;
  readonly of: Alike<number | null>;
  readonly min?: number;
  readonly max: number;
  readonly empty?: string;
  readonly hint?: string;
  onChange(value: number | null): void;
}

/** A quantity that may be not measured. */
export function AlikeQuantity({ of, empty, ...props }: QuantityProps): ReactElement {
  const words = useWords();
  const shown = of.differ ? words.heads.differ : (empty ?? words.site.unmeasured);
  return <QuantityField {...props} value={of.value} nullable empty={shown} />;
}

interface ChoiceProps<T extends string> {
  readonly label: string;
  readonly of: Alike<T>;
  readonly options: readonly { readonly value: T; readonly label: string }[];
  readonly hint?: string | undefined;
  onChange(value: T): void;
}

/** One of a few. */
export function AlikeChoice<T extends string>({
  of,
  options,
  onChange,
  ...props
}: ChoiceProps<T>): ReactElement {
  const words = useWords();
  const asked = of.differ ? [{ value: '' as const, label: words.heads.differ }] : [];
  return (
    <ChoiceField<T | ''>
      {...props}
      value={of.differ ? '' : of.value}
      options={[...asked, ...options]}
      onChange={(value) => value !== '' && onChange(value)}
    />
  );
}

interface OptionalProps {
  readonly label: string;
  readonly of: Alike<string | null>;
  readonly options: readonly { readonly value: string; readonly label: string }[];
  readonly hint?: string | undefined;
  onChange(value: string | null): void;
}

const NONE = 'none';

/** One of a few, or not measured; a value that is none of them is shown as it is. */
export function AlikeOptional({ of, options, onChange, ...props }: OptionalProps): ReactElement {
  const words = useWords();
  const own = of.value !== null && !options.some(({ value }) => value === of.value);
  return (
    <AlikeChoice
      {...props}
      of={of.differ ? of : { value: of.value ?? NONE, differ: false }}
      options={[
        { value: NONE, label: words.site.unmeasured },
        ...(own ? [{ value: of.value, label: of.value }] : []),
        ...options,
      ]}
      onChange={(value) => onChange(value === NONE ? null : value)}
    />
  );
}

interface TextProps {
  readonly label: string;
  readonly of: Alike<string | null>;
  readonly placeholder?: string;
  readonly long?: boolean;
  onChange(value: string | null): void;
}

/** A line of text; empty is not known. */
export function AlikeText({ of, placeholder = '', onChange, ...props }: TextProps): ReactElement {
  const words = useWords();
  return (
    <TextField
      {...props}
      value={of.value ?? ''}
      placeholder={of.differ ? words.heads.differ : placeholder}
      onChange={(text) => onChange(text.trim() === '' ? null : text.trim())}
    />
  );
}
