import type { ReactElement } from 'react';
import { formatQuantity } from '../../base/quantity.ts';
import { outletLawsFor } from '../../catalog/index.ts';
import { feederCutM, feederTubes } from '../../derive/feeders.ts';
import {
  hangApart,
  hangOnOneFeeder,
  MOST_ON_FEEDER,
  ON_FEEDER_SOURCE,
  rehangEdit,
  seatEmitters,
  unshareEmitter,
  type EmitterAt,
} from '../../layout/points/index.ts';
import { plantsOf } from '../../plan/emitter-plants.ts';
import type { OutletChoice, PointEmitter } from '../../plan/records.ts';
import { ChoiceField } from '../fields/ChoiceField.tsx';
import { useEditor, useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { Figures } from './Figures.tsx';
import { alike } from './alike.ts';
import { AlikeChoice, AlikeQuantity } from './alike-fields.tsx';
import { MOST_LPH, OutletFields } from './outlet-fields.tsx';

/** One or several point emitters: kind and flow, where they sit, what they water, and how their feeders run. */
export function EmitterForm({
  record,
  set,
}: {
  readonly record: PointEmitter;
  set(fields: Partial<OutletChoice>): void;
}): ReactElement {
  const editor = useEditor();
  const words = useWords().points;
  const plan = useEditorState((state) => state.history.plan);
  const selection = useEditorState((state) => state.selection);
  const ids = selection.filter(({ table }) => table === 'emitters').map(({ id }) => id);
  const chosen = ids.flatMap((id) => plan.emitters.get(id) ?? []);
  const seats = new Set(chosen.map(({ onRun }): EmitterAt => (onRun ? 'run' : 'plant')));
  const seat = seats.size === 1 ? [...seats][0]! : '';
  const starts = new Set([...plan.emitters].map(({ fromEmitterId }) => fromEmitterId));
  const onFeeder = chosen.some(({ id, fromEmitterId }) => fromEmitterId !== undefined || starts.has(id));
  return (
    <>
      {chosen.length > 1 ? (
        <SeveralOutlets chosen={chosen} set={set} />
      ) : (
        <OutletFields
          use="point"
          value={record}
          onChange={({ law, ratedFlowLph }) => set({ law, ratedFlowLph })}
        />
      )}
      <ChoiceField<EmitterAt | ''>
        label={words.seat}
        value={seat}
        options={[
          ...(seat === '' ? [{ value: '' as const, label: words.differ }] : []),
          ...(['plant', 'run'] as const).map((id) => ({ value: id, label: words.seats[id] })),
        ]}
        hint={ids.some((id) => starts.has(id)) ? words.seatHeld : words.seatHints[seat || 'plant']}
        onChange={(next) => next !== '' && editor.commit(seatEmitters(words.seatLabel, ids, next))}
      />
      {ids.length === 1 && <OneEmitter emitter={record} />}
      <div className="row">
        {ids.length > 1 && (
          <button
            type="button"
            data-testid="emitters-one-feeder"
            title={words.oneFeederHint(ON_FEEDER_SOURCE)}
            disabled={ids.length > MOST_ON_FEEDER}
            onClick={() => editor.commit(hangOnOneFeeder(words.oneFeeder, ids))}
          >
            {words.oneFeeder}
          </button>
        )}
        {onFeeder && (
          <button
            type="button"
            data-testid="emitters-apart"
            onClick={() => editor.commit(hangApart(words.apart, ids))}
          >
            {words.apart}
          </button>
        )}
        <button type="button" onClick={() => editor.commit(rehangEdit(words.rehang, ids))}>
          {words.rehang}
        </button>
      </div>
      {ids.length > MOST_ON_FEEDER && <p className="field-note">{words.tooMany(MOST_ON_FEEDER)}</p>}
    </>
  );
}

/** Kind and flow of several emitters: only what is typed is set. */
function SeveralOutlets({
  chosen,
  set,
}: {
  readonly chosen: readonly PointEmitter[];
  set(fields: Partial<OutletChoice>): void;
}): ReactElement {
  const words = useWords().fields;
  return (
    <>
      <AlikeChoice
        label={words.emitters}
        of={alike(chosen, ({ law }) => law)}
        options={outletLawsFor('point').map(({ id, name }) => ({ value: id, label: name }))}
        onChange={(law) => set({ law })}
      />
      <AlikeQuantity
        label={words.flow}
        kind="outletFlow"
        of={alike(chosen, ({ ratedFlowLph }) => ratedFlowLph)}
        min={0.1}
        max={MOST_LPH}
        onChange={(ratedFlowLph) => ratedFlowLph !== null && set({ ratedFlowLph })}
      />
    </>
  );
}

/** What one emitter waters, and its feeder as computed. */
function OneEmitter({ emitter }: { readonly emitter: PointEmitter }): ReactElement {
  const editor = useEditor();
  const words = useWords();
  const plan = useEditorState((state) => state.history.plan);
  const units = useEditorState((state) => state.units);
  const outlets = useEditorState((state) => state.answer?.results.outlets);
  const outlet = outlets?.find(({ owner }) => owner.table === 'emitters' && owner.id === emitter.id);
  const tube = outlets && feederTubes(outlets).find(({ emitterIds }) => emitterIds.includes(emitter.id));
  const length = (metres: number): string => formatQuantity('length', metres, units);
  const plants = plantsOf(emitter).flatMap((id) => plan.plants.get(id) ?? []);
  const run = plan.runs.get(emitter.runId);
  const { points } = words;
  return (
    <>
      <Figures
        rows={[
          [
            words.fields.plant,
            plants.length === 0
              ? '–'
              : plants
                  .map(({ id, name, plantClass }) => `${name || words.classes[plantClass]} (${id})`)
                  .join(', '),
          ],
          [points.hangsOn, run?.name.trim() || emitter.runId],
          ...(outlet && outlet.feederM > 0
            ? ([
                [points.starts, outlet.fromEmitterId ? points.atEmitter(outlet.fromEmitterId) : points.atRun],
                [
                  points.feeder,
                  points.laidAndCut(
                    length(outlet.feederM),
                    length(feederCutM(outlet.feederM, plan.practice)),
                  ),
                ],
              ] as const)
            : []),
          ...(tube && tube.emitterIds.length > 1
            ? ([
                [
                  points.tube,
                  points.tubeOf(
                    tube.emitterIds.length,
                    formatQuantity('outletFlow', tube.ratedFlowLph, units),
                    length(tube.longestM),
                  ),
                  `${ON_FEEDER_SOURCE}.`,
                ],
              ] as const)
            : []),
        ]}
      />
      {plants.length > 1 && (
        <div className="row">
          {plants.map(({ id }) => (
            <button
              key={id}
              type="button"
              className="quiet"
              onClick={() => editor.commit(unshareEmitter(points.unshareLabel, emitter.id, id))}
            >
              {points.unshare(id)}
            </button>
          ))}
        </div>
      )}
    </>
  );
}
