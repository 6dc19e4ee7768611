import { useId, useState, type ReactElement } from 'react';
import { formatQuantity } from '../../base/quantity.ts';
import type { Result } from '../../base/result.ts';
import { bucketFlowLph, gaugeFlowLph, meterFlowLph } from '../../derive/existing/flow-measure.ts';
import type { FlowMethod, WaterService } from '../../plan/records.ts';
import { ChoiceField } from '../fields/ChoiceField.tsx';
import { useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { METER_UNITS, readPressure, readTime, readVolume, type MeterUnit } from './flow-readings.ts';

/** What a calculator found. */
export interface MeasuredFlow {
  readonly flowLph: number;
  readonly how: FlowMethod;
  /** Pressure that the gauge showed at that flow, where it was asked for. */
  readonly pressureKpa: number | null;
}

interface Props {
  /**
   * What the gauge is good for: `throttled` asks for the pressure that it shows while a bucket is filled; `curve`
   * reads the flow off the service's working points by the pressure alone.
   */
  readonly gauge: 'throttled' | 'curve';
  readonly water: Pick<WaterService, 'staticKpa' | 'workingPoints'>;
  /** Static pressure where the gauge sits, kPa; `null` is not known. */
  readonly staticKpa: number | null;
  onUse(measured: MeasuredFlow): void;
}

const METHODS: readonly FlowMethod[] = ['bucket', 'meter', 'gauge'];
const BLANK = { pressure: '', volume: '', seconds: '', before: '', after: '', minutes: '' };
type Reading = keyof typeof BLANK;

/** An unfolding form that works out a flow from readings, shows it while they are typed, and hands it on. */
export function FlowCalculator({ gauge, water, staticKpa, onUse }: Props): ReactElement {
  const words = useWords().service.calculator;
  const units = useEditorState((state) => state.units);
  const [method, setMethod] = useState<FlowMethod>('bucket');
  const [unit, setUnit] = useState<MeterUnit>(units === 'us' ? 'gal' : 'm3');
  const [typed, setTyped] = useState(BLANK);
  const [open, setOpen] = useState(false);
  const bucketUnit: MeterUnit = units === 'us' ? 'gal' : 'L';

  const reads: Record<Reading, Result<number>> = {
    pressure: readPressure(typed.pressure, units),
    volume: readVolume(typed.volume, bucketUnit),
    seconds: readTime(typed.seconds, 1),
    before: readVolume(typed.before, unit),
    after: readVolume(typed.after, unit),
    minutes: readTime(typed.minutes, 60),
  };
  const value = (name: Reading): number => {
    const read = reads[name];
    return read.ok ? read.value : NaN;
  };
  const needed = FIELDS[method === 'gauge' ? gauge : method];
  const complete = needed.every((name) => typed[name].trim() !== '' && reads[name].ok);
  const curved = method === 'gauge' && gauge === 'curve';
  const flowLph = !complete
    ? null
    : method === 'meter'
      ? meterFlowLph(value('before'), value('after'), value('minutes') / 60)
      : curved
        ? staticKpa === null
          ? null
          : gaugeFlowLph(staticKpa, water.workingPoints, value('pressure'))
        : bucketFlowLph(value('volume'), value('seconds'));
  const needsPoint = curved && (staticKpa === null || water.workingPoints.length === 0);
  const use = () => {
    if (flowLph === null) return;
    const pressureKpa = method === 'gauge' && gauge === 'throttled' ? value('pressure') : null;
    onUse({ flowLph, how: method, pressureKpa });
    setTyped(BLANK);
    setOpen(false);
  };
  return (
    <details className="calculator" open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{words.title}</summary>
      {open && (
        <div className="working">
          <ChoiceField<FlowMethod>
            label={words.method}
            value={method}
            options={METHODS.map((id) => ({ value: id, label: words.methods[id] }))}
            hint={words.hints[method === 'gauge' ? gauge : method]}
            onChange={setMethod}
          />
          {method === 'meter' && (
            <ChoiceField<MeterUnit>
              label={words.dial}
              value={unit}
              options={METER_UNITS.map((id) => ({ value: id, label: words.units[id] }))}
              onChange={setUnit}
            />
          )}
          {needed.map((name) => (
            <ReadingField
              key={name}
              label={words.readings[name]}
              unit={
                name === 'pressure'
                  ? units === 'us'
                    ? 'psi'
                    : 'bar'
                  : name === 'seconds'
                    ? 's'
                    : name === 'minutes'
                      ? 'min'
                      : words.units[name === 'volume' ? bucketUnit : unit]
              }
              text={typed[name]}
              read={reads[name]}
              onText={(text) => setTyped({ ...typed, [name]: text })}
            />
          ))}
          {needsPoint && <p className="advice">{words.needsPoint}</p>}
          {complete && flowLph === null && !needsPoint && (
            <p className="advice" data-severity="error" role="alert">
              {words.none[method === 'gauge' ? gauge : method]}
            </p>
          )}
          <div className="row">
            <button type="button" className="primary" disabled={flowLph === null} onClick={use}>
              {words.use}
              {flowLph === null ? '' : ` ${formatQuantity('zoneFlow', flowLph, units)}`}
            </button>
          </div>
        </div>
      )}
    </details>
  );
}

const FIELDS = {
  bucket: ['volume', 'seconds'],
  meter: ['before', 'after', 'minutes'],
  throttled: ['pressure', 'volume', 'seconds'],
  curve: ['pressure'],
} as const satisfies Record<string, readonly Reading[]>;

interface ReadingProps {
  readonly label: string;
  readonly unit: string;
  readonly text: string;
  readonly read: Result<number>;
  onText(text: string): void;
}

/** A reading as typed; what cannot be read is said under it once the field is left. */
function ReadingField({ label, unit, text, read, onText }: ReadingProps): ReactElement {
  const [left, setLeft] = useState(false);
  const id = useId();
  const wrong = left && text.trim() !== '' && !read.ok;
  return (
    <div className="field" data-wrong={wrong}>
      <label htmlFor={id}>
        {label}, {unit}
      </label>
      <input
        id={id}
        type="text"
        autoComplete="off"
        spellCheck={false}
        value={text}
        aria-invalid={wrong}
        aria-describedby={wrong ? `${id}-note` : undefined}
        onFocus={() => setLeft(false)}
        onBlur={() => setLeft(true)}
        onChange={(event) => onText(event.currentTarget.value)}
      />
      {wrong && !read.ok && (
        <p id={`${id}-note`} className="field-note" role="alert">
          {read.problem.what}. {read.problem.todo}
        </p>
      )}
    </div>
  );
}
