import type { ReactElement } from 'react';
import { formatQuantity } from '../../../base/quantity.ts';
import { outletLawById, outletLawsFor } from '../../../catalog/index.ts';
import { FEEDER_ERROR_M } from '../../../derive/checks/feeder-length.ts';
import { FEEDER_SLACK_SOURCE } from '../../../derive/feeders.ts';
import { shownSource } from '../../../derive/wording.ts';
import {
  FEEDER_LEAST_M,
  MOST_EMITTERS,
  POINT_FLOWS_LPH,
  plantNumbers,
  pointDefaults,
  type PointChoices,
  type PointStart,
} from '../../../layout/points/index.ts';
import { changePart } from '../../../plan/edits/index.ts';
import type { Plan, Plant, PlantClass } from '../../../plan/records.ts';
import { ChoiceField } from '../../fields/ChoiceField.tsx';
import { QuantityField } from '../../fields/QuantityField.tsx';
import { useEditor, useEditorState } from '../../services.ts';
import { useWords } from '../../words/index.ts';
import { TubingField } from '../outlet-fields.tsx';
import { Tick } from './FillFields.tsx';

interface Props {
  readonly plan: Plan;
  readonly plants: readonly Plant[];
  readonly value: PointChoices;
  onChange(fields: Partial<PointChoices>): void;
}

/** More slack than this is a slip of the keys, percent. */
const MOST_SLACK_PERCENT = 100;

/** How point emitters are placed: what of them, how many, where, and how tubing reaches them. */
export function PointFields({ plan, plants, value, onChange }: Props): ReactElement {
  const editor = useEditor();
  const words = useWords().points;
  const fields = useWords().fields;
  const law = outletLawById(value.law);
  const usual = pointDefaults(plan, plants);
  const why = usual.choices.law === value.law ? usual.lawSource : null;
  return (
    <>
      <ChoiceField
        label={fields.emitters}
        value={value.law}
        options={outletLawsFor('point').map(({ id, name }) => ({ value: id, label: name }))}
        hint={law && `${shownSource(why === null ? law.source : `${words.onSlope}: ${why}`)}.`}
        onChange={(id) => onChange({ law: id })}
      />
      <QuantityField
        label={words.count}
        kind="count"
        value={value.count}
        nullable
        min={1}
        max={MOST_EMITTERS}
        empty={words.usual}
        hint={words.countHint}
        onChange={(count) => onChange({ count })}
      />
      <SizeFields plan={plan} plants={plants} value={value} onChange={onChange} />
      <ChoiceField
        label={words.place}
        value={value.place}
        options={(['now', 'mature'] as const).map((id) => ({ value: id, label: words.places[id] }))}
        hint={words.placeHints[value.place]}
        onChange={(place) => onChange({ place })}
      />
      <ChoiceField
        label={words.emitterAt}
        value={value.emitterAt}
        options={(['plant', 'run'] as const).map((id) => ({ value: id, label: words.emitterAts[id] }))}
        hint={words.emitterAtHints[value.emitterAt]}
        onChange={(emitterAt) => onChange({ emitterAt })}
      />
      <Tick
        label={words.share}
        title={words.shareHint}
        checked={value.share}
        onChange={(share) => onChange({ share })}
      />
      {value.share && <p className="field-note">{words.shareHint}</p>}
      <QuantityField
        label={words.limit}
        kind="length"
        value={value.feederLimitM}
        min={FEEDER_LEAST_M}
        max={FEEDER_ERROR_M}
        hint={words.limitHint}
        onChange={(feederLimitM) => feederLimitM !== null && onChange({ feederLimitM })}
      />
      <QuantityField
        label={words.slack}
        kind="percent"
        value={plan.practice.feederSlackPercent}
        nullable
        min={0}
        max={MOST_SLACK_PERCENT}
        empty={words.usual}
        hint={words.slackHint(FEEDER_SLACK_SOURCE)}
        onChange={(feederSlackPercent) =>
          editor.commit(changePart(words.slackLabel, 'practice', { feederSlackPercent }))
        }
      />
      <Tick
        label={words.draw}
        checked={value.drawTubing}
        onChange={(drawTubing) => onChange({ drawTubing })}
      />
      {value.drawTubing && (
        <>
          <TubingField use="blank" value={value.tubing} onChange={(tubing) => onChange({ tubing })} />
          <StartField plan={plan} value={value.start} onChange={(start) => onChange({ start })} />
        </>
      )}
    </>
  );
}

/** The rated flow by class, for the classes that are chosen. */
function SizeFields({ plan, plants, value, onChange }: Props): ReactElement {
  const words = useWords();
  const units = useEditorState((state) => state.units);
  const classes = [...new Set(plants.map(({ plantClass }) => plantClass))];
  const usual = plantNumbers(plan, plants, { count: null, flowLph: {} });
  const usualOf = (plantClass: PlantClass): { readonly label: string; readonly source: string } => {
    const own = plants.filter((plant) => plant.plantClass === plantClass).map(({ id }) => usual.get(id)!);
    const sizes = [...new Set(own.map(({ flowLph }) => formatQuantity('outletFlow', flowLph, units)))];
    const sources = [...new Set(own.map(({ source }) => source))];
    return { label: `${words.points.usual}: ${sizes.join(', ')}`, source: sources.join('; ') };
  };
  return (
    <>
      {classes.map((plantClass) => {
        const { label, source } = usualOf(plantClass);
        const flow = value.flowLph[plantClass];
        return (
          <ChoiceField
            key={plantClass}
            label={words.points.size(words.classes[plantClass])}
            value={flow === undefined ? '' : String(flow)}
            options={[
              { value: '', label },
              ...POINT_FLOWS_LPH.map((lph) => ({
                value: String(lph),
                label: formatQuantity('outletFlow', lph, units),
              })),
            ]}
            hint={flow === undefined ? `${source}.` : undefined}
            onChange={(next) => {
              const { [plantClass]: _, ...others } = value.flowLph;
              onChange({ flowLph: next === '' ? others : { ...others, [plantClass]: Number(next) } });
            }}
          />
        );
      })}
    </>
  );
}

/** Where the tubing begins: found by itself, or at a control set, a tie-in or a valve. */
function StartField({
  plan,
  value,
  onChange,
}: {
  readonly plan: Plan;
  readonly value: PointStart;
  onChange(start: PointStart): void;
}): ReactElement {
  const words = useWords().points;
  const tieIns = [...plan.heads].filter(({ fate }) => fate === 'tie-in');
  const starts: readonly { readonly label: string; readonly start: PointStart }[] = [
    { label: words.auto, start: { kind: 'auto' } },
    ...[...plan.controls].map(({ id, name }) => ({
      label: words.control(name.trim() || id),
      start: { kind: 'control', id } as const,
    })),
    ...tieIns.map(({ id, at }) => ({ label: `${words.tieIn} ${id}`, start: { kind: 'place', at } as const })),
    ...[...plan.supplies].map(({ id, name }) => ({
      label: `${words.supply} ${name.trim() || id}`,
      start: { kind: 'supply', id } as const,
    })),
  ];
  const keyOf = (start: PointStart): string => JSON.stringify(start);
  return (
    <ChoiceField
      label={words.start}
      value={keyOf(value)}
      options={starts.map(({ label, start }) => ({ value: keyOf(start), label }))}
      onChange={(key) =>
        onChange(starts.find(({ start }) => keyOf(start) === key)?.start ?? { kind: 'auto' })
      }
    />
  );
}
