import type { ReactElement } from 'react';
import { formatQuantity } from '../../base/quantity.ts';
import { outletLawById, outletLawsFor, tubingFor, tubingById } from '../../catalog/index.ts';
import type { InlineEmitters, OutletChoice } from '../../plan/records.ts';
import { ChoiceField } from '../fields/ChoiceField.tsx';
import { QuantityField } from '../fields/QuantityField.tsx';
import { useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';

/** Largest rated flow that can be typed, L/h: above a bubbler it is no drip. */
export const MOST_LPH = 500;

interface OutletProps<T extends OutletChoice> {
  readonly use: 'inline' | 'point';
  readonly value: T;
  onChange(value: T): void;
}

/** Law and rated flow of built-in or point emitters. */
export function OutletFields<T extends OutletChoice>({ use, value, onChange }: OutletProps<T>): ReactElement {
  const words = useWords();
  const units = useEditorState((state) => state.units);
  const law = outletLawById(value.law);
  const range = law
    ? `${formatQuantity('pressure', law.minKpa, units)} – ${formatQuantity('pressure', law.maxKpa, units)}. ${law.source}.`
    : undefined;
  return (
    <>
      <ChoiceField
        label={words.fields.emitters}
        value={value.law}
        options={outletLawsFor(use).map(({ id, name }) => ({ value: id, label: name }))}
        hint={range}
        onChange={(id) => onChange({ ...value, law: id })}
      />
      <QuantityField
        label={words.fields.flow}
        kind="outletFlow"
        value={value.ratedFlowLph}
        min={0.1}
        max={MOST_LPH}
        onChange={(ratedFlowLph) => ratedFlowLph !== null && onChange({ ...value, ratedFlowLph })}
      />
    </>
  );
}

/** Built-in emitters: law, flow, spacing and the place of the first. */
export function InlineFields({
  value,
  onChange,
}: {
  readonly value: InlineEmitters;
  onChange(value: InlineEmitters): void;
}): ReactElement {
  const words = useWords();
  return (
    <>
      <OutletFields use="inline" value={value} onChange={onChange} />
      <QuantityField
        label={words.fields.spacing}
        kind="spacing"
        value={value.spacingM}
        min={0.05}
        max={5}
        onChange={(spacingM) =>
          spacingM !== null && onChange({ ...value, spacingM, firstM: Math.min(value.firstM, spacingM) })
        }
      />
      <QuantityField
        label={words.fields.first}
        kind="spacing"
        value={value.firstM}
        min={0}
        max={50}
        onChange={(firstM) => firstM !== null && onChange({ ...value, firstM })}
      />
    </>
  );
}

/** Tubing of a run. */
export function TubingField({
  use,
  label,
  value,
  onChange,
}: {
  readonly use: 'inline' | 'blank';
  /** In place of `Tubing`. */
  readonly label?: string;
  readonly value: string;
  onChange(id: string): void;
}): ReactElement {
  const words = useWords();
  const units = useEditorState((state) => state.units);
  const tubing = tubingById(value);
  const hint = tubing
    ? `${formatQuantity('bore', tubing.innerDiameterMm, units)} × ${formatQuantity('bore', tubing.outerDiameterMm, units)}. ${tubing.source}.`
    : undefined;
  return (
    <ChoiceField
      label={label ?? words.fields.tubing}
      value={value}
      options={tubingFor(use).map(({ id, name }) => ({ value: id, label: name }))}
      hint={hint}
      onChange={onChange}
    />
  );
}
