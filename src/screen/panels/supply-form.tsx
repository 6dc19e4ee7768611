import type { ReactElement } from 'react';
import { formatQuantity } from '../../base/quantity.ts';
import { VALVE_LEAST_FLOW, VALVE_PATTERNS, valvePattern, ZONE_VALVES } from '../../catalog/index.ts';
import { nominalSize } from '../../derive/existing/index.ts';
import type { Supply } from '../../plan/records.ts';
import { OptionalChoice } from '../fields/ChoiceField.tsx';
import { QuantityField } from '../fields/QuantityField.tsx';
import { TextField } from '../fields/TextField.tsx';
import { useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { RunningFlow } from './RunningFlow.tsx';
import { WateringFields } from './watering-fields.tsx';

interface Props {
  readonly record: Supply;
  set(fields: Partial<Omit<Supply, 'id'>>): void;
}

/** The catalog's pattern for a written valve type; `null` for words that name none. */
function patternNamed(written: string): string | null {
  const { id } = valvePattern(written);
  return id !== 'globe' || /globe/i.test(written) ? id : null;
}

/** A zone's valve: pressure and height there, its size, pattern and range of flow. */
export function SupplyForm({ record, set }: Props): ReactElement {
  const words = useWords();
  const staticKpa = useEditorState((state) => state.history.plan.water.staticKpa);
  const units = useEditorState((state) => state.units);
  return (
    <>
      <TextField label={words.fields.name} value={record.name} onChange={(name) => set({ name })} />
      <QuantityField
        label={words.fields.pressure}
        kind="pressure"
        value={record.pressureKpa}
        nullable
        max={2000}
        empty={
          staticKpa === null
            ? words.site.unmeasured
            : `${words.site.asSite} ${formatQuantity('pressure', staticKpa, units)}`
        }
        onChange={(pressureKpa) => set({ pressureKpa })}
      />
      <QuantityField
        label={words.fields.height}
        kind="length"
        value={record.zM}
        nullable
        min={-1000}
        max={9000}
        hint="Empty: taken from the levels."
        onChange={(zM) => set({ zM })}
      />
      <OptionalChoice
        label={words.fields.valveSize}
        value={record.valveSize}
        known={record.valveSize === null ? null : nominalSize(record.valveSize)}
        options={ZONE_VALVES.map(({ size }) => ({ value: size, label: `${size} ${words.service.inch}` }))}
        hint={ZONE_VALVES[0]?.source}
        onChange={(valveSize) => set({ valveSize })}
      />
      <OptionalChoice
        label={words.fields.valveType}
        value={record.valveType}
        known={record.valveType === null ? null : patternNamed(record.valveType)}
        options={VALVE_PATTERNS.map(({ id, name }) => ({ value: id, label: name }))}
        onChange={(valveType) => set({ valveType })}
      />
      <RunningFlow record={record} set={set} />
      <QuantityField
        label={words.fields.minFlow}
        kind="zoneFlow"
        value={record.minFlowLph}
        nullable
        max={20_000}
        hint={VALVE_LEAST_FLOW.source}
        onChange={(minFlowLph) => set({ minFlowLph })}
      />
      <QuantityField
        label={words.fields.maxFlow}
        kind="zoneFlow"
        value={record.maxFlowLph}
        nullable
        max={200_000}
        onChange={(maxFlowLph) => set({ maxFlowLph })}
      />
      <WateringFields value={record.watering} onChange={(watering) => set({ watering })} />
    </>
  );
}
