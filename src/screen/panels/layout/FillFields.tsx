import type { ReactElement } from 'react';
import {
  BOUNDS,
  type FillChoices,
  type FillDefaults,
  type FillPattern,
  type HeaderKind,
} from '../../../layout/rows/index.ts';
import type { Area } from '../../../plan/records.ts';
import { ChoiceField } from '../../fields/ChoiceField.tsx';
import { QuantityField } from '../../fields/QuantityField.tsx';
import { useWords } from '../../words/index.ts';
import { TubingField } from '../outlet-fields.tsx';
import { DriplineFields } from './DriplineFields.tsx';

interface Props {
  readonly value: FillChoices;
  readonly usual: FillDefaults;
  /** Other beds that reach into this one. */
  readonly others: readonly Area[];
  onChange(fields: Partial<FillChoices>): void;
}

type Way = 'contour' | 'long edge' | 'degrees';
const WAYS: readonly Way[] = ['contour', 'long edge', 'degrees'];
const PATTERNS: readonly FillPattern[] = ['straight', 'curved', 'loops'];
const HEADERS: readonly HeaderKind[] = ['both ends', 'serpentine', 'none'];

/** How the rows are to be; each value as usual says where it comes from. */
export function FillFields({ value, usual, others, onChange }: Props): ReactElement {
  const words = useWords().fill;
  const follow = useWords().follow;
  const { sources, textureKnown } = usual;
  const { pattern } = value;
  const isUsual = <K extends keyof FillChoices>(key: K) => value[key] === usual.choices[key];
  const bySoil = (key: 'rowSpacingM' | 'emitterSpacingM') =>
    isUsual(key) ? `${textureKnown ? words.soilKnown : words.soilUnknown} (${sources.soil}).` : words.yours;
  const way: Way = typeof value.direction === 'number' ? 'degrees' : value.direction;
  return (
    <>
      <ChoiceField
        label={follow.pattern}
        value={pattern}
        options={PATTERNS.map((one) => ({ value: one, label: follow.patterns[one] }))}
        hint={follow.patternHints[pattern]}
        onChange={(next) => onChange({ pattern: next })}
      />
      <QuantityField
        label={words.rowSpacing}
        kind="spacing"
        value={value.rowSpacingM}
        min={BOUNDS.rowSpacingM[0]}
        max={BOUNDS.rowSpacingM[1]}
        hint={bySoil('rowSpacingM')}
        onChange={(rowSpacingM) => rowSpacingM !== null && onChange({ rowSpacingM })}
      />
      <DriplineFields
        value={value}
        bounds={BOUNDS.emitterSpacingM}
        spacingHint={isUsual('emitterSpacingM') ? '' : words.yours}
        lawNote={usual.isSlope && isUsual('law') ? `${sources.law}.` : null}
        onChange={onChange}
      />
      {pattern === 'straight' && (
        <ChoiceField
          label={words.direction}
          value={way}
          options={WAYS.map((one) => ({ value: one, label: words.directions[one] }))}
          hint={isUsual('direction') && usual.isSlope ? `${sources.slope}.` : undefined}
          onChange={(next) => onChange({ direction: next === 'degrees' ? 0 : next })}
        />
      )}
      {pattern === 'straight' && typeof value.direction === 'number' && (
        <QuantityField
          label={words.degrees}
          kind="angle"
          value={value.direction}
          min={-360}
          max={360}
          hint={words.degreesHint}
          onChange={(direction) => direction !== null && onChange({ direction })}
        />
      )}
      {pattern !== 'loops' && (
        <ChoiceField
          label={words.headers}
          value={value.headers}
          options={HEADERS.map((one) => ({ value: one, label: words.headerKinds[one] }))}
          onChange={(headers) => onChange({ headers })}
        />
      )}
      <details className="calculator">
        <summary>{words.more}</summary>
        <div className="working">
          <QuantityField
            label={words.edge}
            kind="spacing"
            value={value.edgeM}
            min={BOUNDS.edgeM[0]}
            max={BOUNDS.edgeM[1]}
            hint={isUsual('edgeM') ? `${sources.edge}.` : words.yours}
            onChange={(edgeM) => edgeM !== null && onChange({ edgeM })}
          />
          <QuantityField
            label={words.lowerThird}
            kind="percent"
            value={(value.lowerThirdFactor - 1) * 100}
            min={0}
            max={(BOUNDS.lowerThirdFactor[1] - 1) * 100}
            {...(usual.isSlope ? { hint: `${sources.slope}.` } : {})}
            onChange={(percent) => percent !== null && onChange({ lowerThirdFactor: 1 + percent / 100 })}
          />
          <TubingField use="inline" value={value.tubing} onChange={(tubing) => onChange({ tubing })} />
          {value.headers === 'both ends' && (
            <TubingField
              use="blank"
              label={words.headerTubing}
              value={value.headerTubing}
              onChange={(headerTubing) => onChange({ headerTubing })}
            />
          )}
          {value.headers !== 'serpentine' && (
            <Tick
              label={words.stagger}
              checked={value.stagger}
              onChange={(stagger) => onChange({ stagger })}
            />
          )}
          <Tick
            label={words.equalise}
            checked={value.equalise}
            onChange={(equalise) => onChange({ equalise })}
          />
          {others.map(({ id, name }) => (
            <Tick
              key={id}
              label={`${words.leaveOut}: ${name.trim() || id}`}
              checked={value.leaveOut.includes(id)}
              onChange={(out) =>
                onChange({
                  leaveOut: out ? [...value.leaveOut, id] : value.leaveOut.filter((other) => other !== id),
                })
              }
            />
          ))}
          <p className="field-note">{words.alwaysOut}</p>
        </div>
      </details>
    </>
  );
}

/** A choice of yes or no. */
export function Tick({
  label,
  title,
  checked,
  onChange,
}: {
  readonly label: string;
  readonly title?: string;
  readonly checked: boolean;
  onChange(checked: boolean): void;
}): ReactElement {
  return (
    <label className="ground-tint" title={title}>
      <input type="checkbox" checked={checked} onChange={(event) => onChange(event.currentTarget.checked)} />
      {label}
    </label>
  );
}
