import type { ReactElement } from 'react';
import { RING_BOUNDS, type RingDefaults } from '../../../layout/rings/index.ts';
import type { RingChoices } from '../../../plan/records.ts';
import { ChoiceField } from '../../fields/ChoiceField.tsx';
import { QuantityField } from '../../fields/QuantityField.tsx';
import { useWords } from '../../words/index.ts';
import { TubingField } from '../outlet-fields.tsx';
import { DriplineFields } from './DriplineFields.tsx';
import { Tick } from './FillFields.tsx';

interface Props {
  readonly value: RingChoices;
  readonly usual: RingDefaults;
  /** Whether the canopy as it is now is measured on every tree. */
  readonly hasNow: boolean;
  onChange(fields: Partial<RingChoices>): void;
}

/** How rings round a tree are to be; each value as usual says where it comes from. */
export function RingFields({ value, usual, hasNow, onChange }: Props): ReactElement {
  const fill = useWords().fill;
  const words = useWords().follow.rings;
  const { sources, textureKnown } = usual;
  const isUsual = <K extends keyof RingChoices>(key: K) => value[key] === usual.choices[key];
  return (
    <>
      <ChoiceField
        label={words.form}
        value={value.form}
        options={(['rings', 'spiral'] as const).map((id) => ({ value: id, label: words.forms[id] }))}
        hint={`${sources.rings}.`}
        onChange={(form) => onChange({ form })}
      />
      <ChoiceField
        label={words.canopy}
        value={value.canopy}
        options={(hasNow ? (['now', 'mature'] as const) : (['mature'] as const)).map((id) => ({
          value: id,
          label: words.canopies[id],
        }))}
        hint={hasNow ? undefined : words.noCanopyNow}
        onChange={(canopy) => onChange({ canopy })}
      />
      <QuantityField
        label={words.spacing}
        kind="spacing"
        value={value.ringSpacingM}
        nullable
        empty={words.thirds}
        min={RING_BOUNDS.ringSpacingM[0]}
        max={RING_BOUNDS.ringSpacingM[1]}
        onChange={(ringSpacingM) => onChange({ ringSpacingM })}
      />
      <QuantityField
        label={words.trunk}
        kind="spacing"
        value={value.trunkClearM}
        min={RING_BOUNDS.trunkClearM[0]}
        max={RING_BOUNDS.trunkClearM[1]}
        hint={isUsual('trunkClearM') ? `${sources.trunk}.` : fill.yours}
        onChange={(trunkClearM) => trunkClearM !== null && onChange({ trunkClearM })}
      />
      <Tick
        label={words.clearRows}
        title={words.clearRowsHint}
        checked={value.clearRows ?? false}
        onChange={(clearRows) => onChange({ clearRows })}
      />
      <DriplineFields
        value={value}
        bounds={RING_BOUNDS.emitterSpacingM}
        spacingHint={
          isUsual('emitterSpacingM')
            ? `${textureKnown ? fill.soilKnown : fill.soilUnknown} (${sources.soil}).`
            : fill.yours
        }
        lawNote={usual.isSlope && isUsual('law') ? `${sources.law}.` : null}
        onChange={onChange}
      />
      <TubingField use="inline" value={value.tubing} onChange={(tubing) => onChange({ tubing })} />
      <TubingField
        use="blank"
        label={fill.headerTubing}
        value={value.headerTubing}
        onChange={(headerTubing) => onChange({ headerTubing })}
      />
    </>
  );
}
