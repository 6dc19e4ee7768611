import { useState, type ReactElement } from 'react';
import { formatQuantity } from '../../base/quantity.ts';
import {
  BACKFLOW_SIZES,
  BACKFLOW_TYPES,
  METERS,
  PIPE_BORES,
  backflowType,
  meterBySize,
} from '../../catalog/index.ts';
import { nominalSize, pipeMaterial } from '../../derive/existing/index.ts';
import { changePart } from '../../plan/edits/index.ts';
import type { MeasuredAt, WaterService, WorkingPoint } from '../../plan/records.ts';
import { ChoiceField, OptionalChoice } from '../fields/ChoiceField.tsx';
import { QuantityField } from '../fields/QuantityField.tsx';
import { useEditor, useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { Section } from './Figures.tsx';

/** Highest pressure and flow that can be typed, kPa and L/h. */
const MOST_KPA = 2000;
const MOST_LPH = 200_000;

const SERVICE_SIZES = [...new Set(PIPE_BORES.map((bore) => bore.size))];
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
    <Section title={words.service.title}>
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
      <WorkingPoints
        points={water.workingPoints}
        staticKpa={water.staticKpa}
        onChange={(label, workingPoints) => set(label, { workingPoints })}
      />
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
          `${formatQuantity('pressure', meter.lossAtMaxKpa, units)} at ${formatQuantity('zoneFlow', meter.safeMaxLph, units)}. ${meter.source}.`
        }
        onChange={(meterSize) => set('Change meter', { meterSize })}
      />
      <OptionalChoice
        label={words.service.serviceSize}
        value={water.serviceSize}
        known={water.serviceSize === null ? null : nominalSize(water.serviceSize)}
        options={SERVICE_SIZES.map(inches)}
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
    </Section>
  );
}

interface PointsProps {
  readonly points: readonly WorkingPoint[];
  readonly staticKpa: number | null;
  onChange(label: string, points: readonly WorkingPoint[]): void;
}

/** Working points, each of a pressure and a flow; a new one is kept once both are typed. */
function WorkingPoints({ points, staticKpa, onChange }: PointsProps): ReactElement {
  const words = useWords();
  const [started, setStarted] = useState<Partial<WorkingPoint> | null>(null);
  const put = (i: number, fields: Partial<WorkingPoint>) =>
    onChange(
      'Change working point',
      points.map((point, j) => (j === i ? { ...point, ...fields } : point)),
    );
  const begin = (fields: Partial<WorkingPoint>) => {
    const { pressureKpa, flowLph } = { ...started, ...fields };
    if (pressureKpa !== undefined && flowLph !== undefined) {
      setStarted(null);
      onChange('Add working point', [...points, { pressureKpa, flowLph }]);
    } else setStarted({ ...started, ...fields });
  };
  const above = points.some((point) => staticKpa !== null && point.pressureKpa >= staticKpa);
  return (
    <div className="working" role="group" aria-label={words.service.working}>
      <h3 className="field-head">{words.service.working}</h3>
      <p className="field-note">
        {points.length || started ? words.service.workingHint : words.service.noWorking}
      </p>
      <ul className="measures">
        {points.map((point, i) => (
          <li key={i}>
            <div>
              <QuantityField
                label={`${words.service.pressure} ${i + 1}`}
                kind="pressure"
                value={point.pressureKpa}
                max={MOST_KPA}
                onChange={(pressureKpa) => pressureKpa !== null && put(i, { pressureKpa })}
              />
              <QuantityField
                label={`${words.service.flow} ${i + 1}`}
                kind="zoneFlow"
                value={point.flowLph}
                max={MOST_LPH}
                onChange={(flowLph) => flowLph !== null && put(i, { flowLph })}
              />
            </div>
            <button
              type="button"
              className="quiet"
              aria-label={`${words.service.deletePoint} ${i + 1}`}
              title={words.service.deletePoint}
              onClick={() =>
                onChange(
                  'Delete working point',
                  points.filter((_, j) => j !== i),
                )
              }
            >
              ×
            </button>
          </li>
        ))}
        {started && (
          <li key="new">
            <div>
              <QuantityField
                label={`${words.service.pressure} ${points.length + 1}`}
                kind="pressure"
                value={started.pressureKpa ?? null}
                nullable
                empty=""
                max={MOST_KPA}
                onChange={(pressureKpa) => pressureKpa !== null && begin({ pressureKpa })}
              />
              <QuantityField
                label={`${words.service.flow} ${points.length + 1}`}
                kind="zoneFlow"
                value={started.flowLph ?? null}
                nullable
                empty=""
                max={MOST_LPH}
                hint={words.service.needBoth}
                onChange={(flowLph) => flowLph !== null && begin({ flowLph })}
              />
            </div>
            <button
              type="button"
              className="quiet"
              aria-label={`${words.service.deletePoint} ${points.length + 1}`}
              title={words.service.deletePoint}
              onClick={() => setStarted(null)}
            >
              ×
            </button>
          </li>
        )}
      </ul>
      {above && (
        <p className="advice" data-severity="warning">
          {words.service.notBelow}
        </p>
      )}
      {!started && (
        <div className="row">
          <button type="button" onClick={() => setStarted({})}>
            {words.service.addPoint}
          </button>
        </div>
      )}
    </div>
  );
}
