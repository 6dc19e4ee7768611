import type { ReactElement } from 'react';
import { formatQuantity } from '../../base/quantity.ts';
import {
  BACKFLOW_SIZES,
  BACKFLOW_TYPES,
  METER_DESIGN_SHARE,
  METERS,
  PIPE_BORES,
  PIPE_SIZES,
  backflowType,
  meterBySize,
} from '../../catalog/index.ts';
import { nominalSize, pipeMaterial } from '../../derive/existing/index.ts';
import { shownSource } from '../../derive/wording.ts';
import { changePart } from '../../plan/edits/index.ts';
import type { MeasuredAt, WaterService } from '../../plan/records.ts';
import { ChoiceField, OptionalChoice } from '../fields/ChoiceField.tsx';
import { QuantityField } from '../fields/QuantityField.tsx';
import { useEditor, useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { Figures, Section } from './Figures.tsx';
import { MOST_KPA, WorkingPoints } from './WorkingPoints.tsx';

const MATERIALS = [...new Set(PIPE_BORES.map((bore) => bore.material))];

/** The water service up to the valves: pressures, where they were read, and what lies on the way. */
export function WaterCard(): ReactElement {
  const editor = useEditor();
  const words = useWords();
  const units = useEditorState((state) => state.units);
  const water = useEditorState((state) => state.history.plan.water);
  const set = (label: string, fields: Partial<WaterService>) =>
    editor.commit(changePart(label, 'water', fields));
  const inches = (size: string) => ({ value: size, label: `${size} ${words.service.inch}` });
  const meter = water.meterSize === null ? undefined : meterBySize(nominalSize(water.meterSize));
  const backflow = water.backflowType === null ? undefined : backflowType(water.backflowType);
  return (
    <Section id="survey-water" title={words.service.title}>
      <QuantityField
        label={words.service.static}
        kind="pressure"
        value={water.staticKpa}
        nullable
        max={MOST_KPA}
        onChange={(staticKpa) => set('Change static pressure', { staticKpa })}
      />
      <QuantityField
        label={words.service.lowStatic}
        kind="pressure"
        value={water.lowStaticKpa}
        nullable
        max={MOST_KPA}
        hint={
          water.lowStaticKpa !== null && water.staticKpa !== null && water.lowStaticKpa > water.staticKpa
            ? words.service.lowAbove
            : ''
        }
        onChange={(lowStaticKpa) => set('Change lowest static pressure', { lowStaticKpa })}
      />
      <ChoiceField<MeasuredAt | ''>
        label={words.service.measuredAt}
        value={water.measuredAt ?? ''}
        options={[
          { value: '', label: words.service.placeUnknown },
          { value: 'valve', label: words.service.places.valve },
          { value: 'meter', label: words.service.places.meter },
        ]}
        hint={words.service.placeHint}
        onChange={(at) => set('Change place of measuring', { measuredAt: at === '' ? null : at })}
      />
      <WorkingPoints water={water} onChange={(label, workingPoints) => set(label, { workingPoints })} />
      <QuantityField
        label={words.service.temperature}
        kind="temperature"
        value={water.waterC}
        nullable
        min={0}
        max={60}
        hint={words.service.temperatureHint}
        onChange={(waterC) => set('Change water temperature', { waterC })}
      />
      <OptionalChoice
        label={words.service.meter}
        value={water.meterSize}
        known={meter?.size}
        options={METERS.map(({ size }) => inches(size))}
        hint={
          meter &&
          `${formatQuantity('pressure', meter.lossAtMaxKpa, units)} at ${formatQuantity('zoneFlow', meter.safeMaxLph, units)}. ${shownSource(meter.source)}.`
        }
        onChange={(meterSize) => set('Change meter', { meterSize })}
      />
      {meter && (
        <Figures
          rows={[
            [
              words.service.meterSafe,
              formatQuantity('zoneFlow', meter.safeMaxLph, units),
              shownSource(meter.source),
            ],
            [
              words.service.meterDesign,
              formatQuantity('zoneFlow', METER_DESIGN_SHARE * meter.safeMaxLph, units),
              words.service.meterShareSource,
            ],
          ]}
        />
      )}
      <OptionalChoice
        label={words.service.serviceSize}
        value={water.serviceSize}
        known={water.serviceSize === null ? null : nominalSize(water.serviceSize)}
        options={PIPE_SIZES.map(inches)}
        onChange={(serviceSize) => set('Change service pipe', { serviceSize })}
      />
      <OptionalChoice
        label={words.service.material}
        value={water.serviceMaterial}
        known={water.serviceMaterial === null ? null : pipeMaterial(water.serviceMaterial)}
        options={MATERIALS.map((material) => ({ value: material, label: material }))}
        onChange={(serviceMaterial) => set('Change service pipe', { serviceMaterial })}
      />
      <QuantityField
        label={words.service.length}
        kind="length"
        value={water.serviceLengthM}
        nullable
        max={5000}
        onChange={(serviceLengthM) => set('Change service pipe', { serviceLengthM })}
      />
      <OptionalChoice
        label={words.service.backflow}
        value={water.backflowType}
        known={backflow?.id}
        options={BACKFLOW_TYPES.map(({ id, name }) => ({ value: id, label: name }))}
        hint={backflow && `${backflow.source}. ${words.service.backflowCaution}`}
        onChange={(type) => set('Change backflow preventer', { backflowType: type })}
      />
      <OptionalChoice
        label={words.service.backflowSize}
        value={water.backflowSize}
        known={water.backflowSize === null ? null : nominalSize(water.backflowSize)}
        options={BACKFLOW_SIZES.map(inches)}
        onChange={(backflowSize) => set('Change backflow preventer', { backflowSize })}
      />
      <QuantityField
        label={words.service.backflowHeight}
        kind="length"
        value={water.backflowZM}
        nullable
        min={-1000}
        max={9000}
        hint={words.service.backflowHeightHint}
        onChange={(backflowZM) => set('Change backflow preventer', { backflowZM })}
      />
    </Section>
  );
}
