import { useState, type ReactElement } from 'react';
import type { FlowMethod, WaterService, WorkingPoint } from '../../plan/records.ts';
import { ChoiceField } from '../fields/ChoiceField.tsx';
import { QuantityField } from '../fields/QuantityField.tsx';
import { useWords } from '../words/index.ts';
import { FlowCalculator, type MeasuredFlow } from './FlowCalculator.tsx';

/** Highest pressure and flow that can be typed, kPa and L/h. */
export const MOST_KPA = 2000;
export const MOST_LPH = 200_000;

interface Props {
  readonly water: WaterService;
  onChange(label: string, points: readonly WorkingPoint[]): void;
}

/** Working points, each of a pressure and a flow, as many as were measured; a new one is kept once both are there. */
export function WorkingPoints({ water, onChange }: Props): ReactElement {
  const words = useWords().service;
  const { workingPoints: points, staticKpa } = water;
  const [started, setStarted] = useState<Partial<WorkingPoint> | null>(null);
  const put = (i: number, fields: Partial<WorkingPoint>) =>
    onChange(
      'Change working point',
      points.map((point, j) => (j === i ? { ...point, ...fields } : point)),
    );
  const begin = (fields: Partial<WorkingPoint>) => {
    const { pressureKpa, flowLph, how } = { ...started, ...fields };
    if (pressureKpa !== undefined && flowLph !== undefined) {
      setStarted(null);
      onChange('Add working point', [
        ...points,
        how ? { pressureKpa, flowLph, how } : { pressureKpa, flowLph },
      ]);
    } else setStarted({ ...started, ...fields });
  };
  const fromReadings = ({ flowLph, how, pressureKpa }: MeasuredFlow) =>
    begin({ flowLph, how, ...(pressureKpa === null ? {} : { pressureKpa }) });
  const above = points.some((point) => staticKpa !== null && point.pressureKpa >= staticKpa);
  const remove = (i: number) =>
    onChange(
      'Delete working point',
      points.filter((_, j) => j !== i),
    );
  return (
    <div className="working" role="group" aria-label={words.working}>
      <h3 className="field-head">{words.working}</h3>
      <p className="field-note">{points.length || started ? words.workingHint : words.noWorking}</p>
      <ul className="measures">
        {points.map((point, i) => (
          <li key={i}>
            <div>
              <QuantityField
                label={`${words.pressure} ${i + 1}`}
                kind="pressure"
                value={point.pressureKpa}
                max={MOST_KPA}
                onChange={(pressureKpa) => pressureKpa !== null && put(i, { pressureKpa })}
              />
              <QuantityField
                label={`${words.flow} ${i + 1}`}
                kind="zoneFlow"
                value={point.flowLph}
                max={MOST_LPH}
                onChange={(flowLph) => flowLph !== null && put(i, { flowLph })}
              />
              <HowField
                label={`${words.how} ${i + 1}`}
                value={point.how ?? null}
                onChange={(how) => put(i, { how: how ?? undefined })}
              />
            </div>
            <DeletePoint number={i + 1} onDelete={() => remove(i)} />
          </li>
        ))}
        {started && (
          <li key="new">
            <div>
              <QuantityField
                label={`${words.pressure} ${points.length + 1}`}
                kind="pressure"
                value={started.pressureKpa ?? null}
                nullable
                empty=""
                max={MOST_KPA}
                onChange={(pressureKpa) => pressureKpa !== null && begin({ pressureKpa })}
              />
              <QuantityField
                label={`${words.flow} ${points.length + 1}`}
                kind="zoneFlow"
                value={started.flowLph ?? null}
                nullable
                empty=""
                max={MOST_LPH}
                hint={words.needBoth}
                onChange={(flowLph) => flowLph !== null && begin({ flowLph })}
              />
            </div>
            <DeletePoint number={points.length + 1} onDelete={() => setStarted(null)} />
          </li>
        )}
      </ul>
      {above && (
        <p className="advice" data-severity="warning">
          {words.notBelow}
        </p>
      )}
      {!started && (
        <div className="row">
          <button type="button" onClick={() => setStarted({})}>
            {words.addPoint}
          </button>
        </div>
      )}
      <FlowCalculator gauge="throttled" water={water} staticKpa={staticKpa} onUse={fromReadings} />
    </div>
  );
}

function DeletePoint({ number, onDelete }: { readonly number: number; onDelete(): void }): ReactElement {
  const words = useWords().service;
  return (
    <button
      type="button"
      className="quiet"
      aria-label={`${words.deletePoint} ${number}`}
      title={words.deletePoint}
      onClick={onDelete}
    >
      ×
    </button>
  );
}

const METHODS: readonly FlowMethod[] = ['bucket', 'meter', 'gauge'];

/** How a flow was measured, or that it is not noted. */
export function HowField({
  label,
  value,
  onChange,
}: {
  readonly label: string;
  readonly value: FlowMethod | null;
  onChange(how: FlowMethod | null): void;
}): ReactElement {
  const words = useWords().service;
  return (
    <ChoiceField<FlowMethod | ''>
      label={label}
      value={value ?? ''}
      options={[
        { value: '', label: words.notNoted },
        ...METHODS.map((id) => ({ value: id, label: words.calculator.short[id] })),
      ]}
      onChange={(how) => onChange(how === '' ? null : how)}
    />
  );
}
