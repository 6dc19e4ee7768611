import type { ReactElement } from 'react';
import { FILTERS, filterById, REGULATORS, regulatorById } from '../../catalog/index.ts';
import { formatQuantity } from '../../base/quantity.ts';
import type { ControlSet } from '../../plan/records.ts';
import { ChoiceField } from '../fields/ChoiceField.tsx';
import { QuantityField } from '../fields/QuantityField.tsx';
import { useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { Tick } from './layout/FillFields.tsx';

type Controls = Pick<ControlSet, 'filter' | 'regulator' | 'setKpa' | 'regulatorFirst'>;

/** Filter, regulator window and set pressure. */
export function ControlFields({
  value,
  onChange,
}: {
  readonly value: Controls;
  onChange(fields: Partial<Controls>): void;
}): ReactElement {
  const words = useWords();
  const units = useEditorState((state) => state.units);
  const window = (min: number, max: number) =>
    `${formatQuantity('zoneFlow', min, units)} – ${formatQuantity('zoneFlow', max, units)}`;
  return (
    <>
      <ChoiceField
        label={words.fields.filter}
        value={value.filter}
        options={FILTERS.map(({ id, name }) => ({ value: id, label: name }))}
        hint={filterById(value.filter)?.source}
        onChange={(filter) => onChange({ filter })}
      />
      <ChoiceField
        label={words.fields.regulator}
        value={value.regulator}
        options={REGULATORS.map(({ id, minFlowLph, maxFlowLph }) => ({
          value: id,
          label: window(minFlowLph, maxFlowLph),
        }))}
        hint={regulatorById(value.regulator)?.source}
        onChange={(regulator) => onChange({ regulator })}
      />
      <QuantityField
        label={words.fields.set}
        kind="pressure"
        value={value.setKpa}
        min={20}
        max={700}
        onChange={(setKpa) => setKpa !== null && onChange({ setKpa })}
      />
      <Tick
        label={words.checksFacts.regulatorFirst}
        title={words.checksFacts.regulatorFirstHint}
        checked={value.regulatorFirst === true}
        onChange={(regulatorFirst) => onChange({ regulatorFirst })}
      />
    </>
  );
}
