import type { ReactElement } from 'react';
import { distance } from '../../base/point.ts';
import { formatQuantity } from '../../base/quantity.ts';
import { dropOf, percentOf } from '../../derive/index.ts';
import { shownPlan } from '../../editor/index.ts';
import type { Fall, Level } from '../../plan/records.ts';
import { ChoiceField } from '../fields/ChoiceField.tsx';
import { QuantityField } from '../fields/QuantityField.tsx';
import { useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { Figures } from './Figures.tsx';

/** Most that a fall may be: beyond it a figure is a slip of the keys. */
const MOST_DROP_M = 1000;
const MOST_PERCENT = 1000;

interface ByProps {
  readonly value: Fall['by'];
  onChange(by: Fall['by']): void;
  /** What the figure would be when measured the other way; without it the figure starts anew. */
  readonly other?: (kind: Fall['by']['kind']) => Fall['by'];
}

/** How a fall was measured, and its figure. */
export function FallByFields({ value, onChange, other }: ByProps): ReactElement {
  const words = useWords().ground.fall;
  const anew = (kind: Fall['by']['kind']): Fall['by'] =>
    kind === 'drop' ? { kind, dropM: 0 } : { kind, percent: 0 };
  return (
    <>
      <ChoiceField
        label={words.kind}
        value={value.kind}
        options={(['drop', 'slope'] as const).map((kind) => ({ value: kind, label: words.kinds[kind] }))}
        onChange={(kind) => kind !== value.kind && onChange((other ?? anew)(kind))}
      />
      {value.kind === 'drop' ? (
        <QuantityField
          label={words.drop}
          kind="length"
          value={value.dropM}
          min={-MOST_DROP_M}
          max={MOST_DROP_M}
          hint={words.hint}
          onChange={(dropM) => dropM !== null && onChange({ kind: 'drop', dropM })}
        />
      ) : (
        <QuantityField
          label={words.percent}
          kind="slope"
          value={value.percent}
          min={-MOST_PERCENT}
          max={MOST_PERCENT}
          hint={words.hint}
          onChange={(percent) => percent !== null && onChange({ kind: 'slope', percent })}
        />
      )}
    </>
  );
}

/** A chosen fall: its figure, and what follows from it. */
export function FallForm({
  record,
  set,
}: {
  readonly record: Fall;
  set(fields: Partial<Omit<Fall, 'id'>>): void;
}): ReactElement {
  const words = useWords().ground.fall;
  const units = useEditorState((state) => state.units);
  // The ends as they are while one is dragged.
  const fall = useEditorState((state) => shownPlan(state).falls.get(record.id)) ?? record;
  const lengthM = distance(fall.from, fall.to);
  const dropM = dropOf(fall);
  return (
    <>
      <FallByFields
        value={record.by}
        onChange={(by) => set({ by })}
        {...(lengthM > 0
          ? {
              other: (kind: Fall['by']['kind']): Fall['by'] =>
                kind === 'drop'
                  ? { kind, dropM: dropOf(record) }
                  : { kind, percent: Math.max(-MOST_PERCENT, Math.min(MOST_PERCENT, percentOf(record))) },
            }
          : {})}
      />
      {lengthM > 0 ? (
        <Figures
          rows={[
            [words.distance, formatQuantity('length', lengthM, units)],
            record.by.kind === 'drop'
              ? [words.slopeIs, formatQuantity('slope', percentOf(fall), units)]
              : [words.dropIs, formatQuantity('length', dropM, units)],
            [words.onGround, formatQuantity('length', Math.hypot(lengthM, dropM), units)],
          ]}
        />
      ) : (
        <p className="advice">{words.short}</p>
      )}
      <p className="field-note">{words.ends}</p>
      <div className="row">
        <button type="button" onClick={() => set({ from: record.to, to: record.from })}>
          {words.turn}
        </button>
      </div>
    </>
  );
}

/** Drop and slope between two chosen levels, from the higher to the lower one. */
export function BetweenLevels({ a, b }: { readonly a: Level; readonly b: Level }): ReactElement {
  const words = useWords().ground.between;
  const units = useEditorState((state) => state.units);
  const [upper, lower] = a.zM >= b.zM ? [a, b] : [b, a];
  const lengthM = distance(a.at, b.at);
  const dropM = upper.zM - lower.zM;
  if (lengthM === 0) return <p className="quiet-text">{words.same}</p>;
  return (
    <Figures
      rows={[
        [
          words.drop,
          dropM === 0 ? words.level : `${formatQuantity('length', dropM, units)} (${upper.id} → ${lower.id})`,
        ],
        [words.slope, formatQuantity('slope', (dropM / lengthM) * 100, units)],
        [words.distance, formatQuantity('length', lengthM, units)],
        [words.onGround, formatQuantity('length', Math.hypot(lengthM, dropM), units)],
      ]}
    />
  );
}
