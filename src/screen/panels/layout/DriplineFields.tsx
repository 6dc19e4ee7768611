import type { ReactElement } from 'react';
import type { FillChoices } from '../../../plan/records.ts';
import { QuantityField } from '../../fields/QuantityField.tsx';
import { useWords } from '../../words/index.ts';
import { OutletFields } from '../outlet-fields.tsx';

type Dripline = Pick<FillChoices, 'emitterSpacingM' | 'law' | 'ratedFlowLph'>;

interface Props {
  readonly value: Dripline;
  /** Least and most emitter spacing, metres. */
  readonly bounds: readonly [number, number];
  /** Where the spacing comes from; empty where a field beside says so. */
  readonly spacingHint: string;
  /** Why these emitters are usual here; null where there is nothing to say. */
  readonly lawNote: string | null;
  onChange(fields: Partial<Dripline>): void;
}

/** Built-in emitters of rows and rings: how far apart, of which kind and flow. */
export function DriplineFields({ value, bounds, spacingHint, lawNote, onChange }: Props): ReactElement {
  const words = useWords().fill;
  return (
    <>
      <QuantityField
        label={words.emitterSpacing}
        kind="spacing"
        value={value.emitterSpacingM}
        min={bounds[0]}
        max={bounds[1]}
        {...(spacingHint ? { hint: spacingHint } : {})}
        onChange={(emitterSpacingM) => emitterSpacingM !== null && onChange({ emitterSpacingM })}
      />
      <OutletFields
        use="inline"
        value={{ law: value.law, ratedFlowLph: value.ratedFlowLph }}
        onChange={({ law, ratedFlowLph }) => onChange({ law, ratedFlowLph })}
      />
      {lawNote && <p className="field-note">{lawNote}</p>}
    </>
  );
}
