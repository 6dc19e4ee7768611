import { useMemo, useState, type ReactElement } from 'react';
import { formatQuantity } from '../../../base/quantity.ts';
import { polygonContains } from '../../../base/polygon.ts';
import {
  emittersOfPlants,
  layPoints,
  pointsEdit,
  pointDefaults,
  type PointChoices,
  type PointLayout,
} from '../../../layout/points/index.ts';
import { plantsOf } from '../../../plan/emitter-plants.ts';
import type { Plan, Plant } from '../../../plan/records.ts';
import { useTouch } from '../../canvas/touch.ts';
import { useEditor, useEditorState } from '../../services.ts';
import { useWords } from '../../words/index.ts';
import { Figures, Section } from '../Figures.tsx';
import { Tick } from './FillFields.tsx';
import { MoveOut } from './MoveOut.tsx';
import { PointFields } from './PointFields.tsx';
import { ShareCard } from './ShareCard.tsx';
import { useOffer } from './use-offer.ts';

/** Point emitters for the plants that are chosen; how to choose some where none are. */
export function PointCard(): ReactElement | null {
  const editor = useEditor();
  const words = useWords().points;
  const plan = useEditorState((state) => state.history.plan);
  const tool = useEditorState((state) => state.tool);
  const selection = useEditorState((state) => state.selection);
  const byFinger = useTouch();
  // Kept while other plants are chosen: they are mostly watered alike.
  const [chosen, choose] = useState<Partial<PointChoices>>({});
  const plants = useMemo(
    () =>
      selection.flatMap(({ table, id }) => {
        const plant = table === 'plants' ? plan.plants.get(id) : undefined;
        return plant ? [plant] : [];
      }),
    [plan, selection],
  );
  const emitters = selection.flatMap(({ table, id }) =>
    table === 'emitters' ? (plan.emitters.get(id) ?? []) : [],
  );
  if (plants.length > 0 && emitters.length === 1) return <ShareCard emitter={emitters[0]!} plants={plants} />;
  if (plants.length > 0) {
    if (tool !== 'select' && tool !== 'pan') {
      return (
        <Section title={words.title}>
          <p className="advice">{words.notWhileDrawing}</p>
        </Section>
      );
    }
    return <Emitters plan={plan} plants={plants} chosen={chosen} onChoose={choose} />;
  }
  const only = selection.length === 1 ? selection[0]! : null;
  const area = only?.table === 'areas' ? plan.areas.get(only.id) : undefined;
  if (selection.length > 0 && area?.use !== 'bed') return null;
  const offered = [...plan.plants].filter(({ at }) => !area || polygonContains(area.outline, area.holes, at));
  const text = area
    ? words.bed(offered.length)
    : plan.plants.size === 0
      ? words.noPlants
      : byFinger
        ? words.emptyTouch
        : words.empty;
  return (
    <Section title={words.title}>
      <p className="advice">{text}</p>
      {offered.length > 0 && (
        <div className="row">
          <button
            type="button"
            data-testid="points-choose"
            onClick={() => editor.select(offered.map(({ id }) => ({ table: 'plants', id })))}
          >
            {area ? words.choose(offered.length) : words.chooseAll(offered.length)}
          </button>
        </div>
      )}
    </Section>
  );
}

interface Props {
  readonly plan: Plan;
  readonly plants: readonly Plant[];
  readonly chosen: Partial<PointChoices>;
  onChoose(chosen: Partial<PointChoices>): void;
}

/** Up to so many plants are laid out at once, in well under a tenth of a second. */
const MOST_AT_ONCE = 400;

/** What was asked to be worked out. */
interface Asked {
  readonly plan: Plan;
  readonly plants: readonly Plant[];
  readonly choices: PointChoices;
}

function Emitters({ plan, plants, chosen, onChoose }: Props): ReactElement {
  const editor = useEditor();
  const words = useWords().points;
  const units = useEditorState((state) => state.units);
  const choices = useMemo<PointChoices>(() => {
    const all = { ...pointDefaults(plan, plants).choices, ...chosen };
    const { start } = all;
    // A control set or valve that is gone is no start any more.
    const isGone =
      (start.kind === 'control' && !plan.controls.has(start.id)) ||
      (start.kind === 'supply' && !plan.supplies.has(start.id));
    return isGone ? { ...all, start: { kind: 'auto' } } : all;
  }, [plan, plants, chosen]);
  // Many plants are laid out only when asked, so that the fields stay quick.
  const [asked, ask] = useState<Asked | null>(null);
  const isWanted =
    plants.length <= MOST_AT_ONCE ||
    (asked?.plan === plan && asked.plants === plants && asked.choices === choices);
  const layout = useMemo(
    () => (isWanted ? layPoints(plan, plants, choices, units) : null),
    [isWanted, plan, plants, choices, units],
  );
  const edit = useMemo(
    () => (layout && layout.emitterCount > 0 ? pointsEdit(plan, plants, choices, words.label, layout) : null),
    [plan, plants, choices, layout, words],
  );
  const earlier = useMemo(() => emittersOfPlants(plan, plants).length, [plan, plants]);

  const place = () => {
    if (!edit || !layout) return;
    editor.select([]);
    editor.preview(null);
    editor.commit(edit);
    editor.say(words.done(layout.emitterCount, new Set(layout.placed.flatMap(plantsOf)).size));
  };
  useOffer(edit, words.placed, place);
  return (
    <Section title={words.title}>
      <PointFields
        plan={plan}
        plants={plants}
        value={choices}
        onChange={(fields) => onChoose({ ...chosen, ...fields })}
      />
      {earlier > 0 && (
        <Tick
          label={words.replace(earlier)}
          checked={choices.replace}
          onChange={(replace) => onChoose({ ...chosen, replace })}
        />
      )}
      {layout ? (
        <Outcome plants={plants} layout={layout} />
      ) : (
        <>
          <p className="advice">{words.workOutText(plants.length)}</p>
          <div className="row">
            <button
              type="button"
              data-testid="points-work-out"
              onClick={() => ask({ plan, plants, choices })}
            >
              {words.workOut}
            </button>
          </div>
        </>
      )}
      <div className="row">
        <button type="button" className="primary" data-testid="points-place" disabled={!edit} onClick={place}>
          {words.placed}
        </button>
        {Object.keys(chosen).length > 0 && (
          <button type="button" className="quiet" onClick={() => onChoose({})}>
            {words.back}
          </button>
        )}
      </div>
      {earlier > 0 && <MoveOut plan={plan} plants={plants} />}
    </Section>
  );
}

function Outcome({
  plants,
  layout,
}: {
  readonly plants: readonly Plant[];
  readonly layout: PointLayout;
}): ReactElement {
  const words = useWords().points;
  const units = useEditorState((state) => state.units);
  const length = (metres: number): string => formatQuantity('length', metres, units);
  const { figures } = words;
  const flow =
    units === 'us'
      ? `${formatQuantity('outletFlow', layout.flowLph, units)}, ${formatQuantity('zoneFlow', layout.flowLph, units)}`
      : formatQuantity('zoneFlow', layout.flowLph, units);
  return (
    <div data-testid="points-outcome">
      <Figures
        rows={[
          [figures.plants, String(plants.length)],
          [figures.emitters, String(layout.emitterCount)],
          [figures.flow, flow],
          ...(layout.route.runs.length > 0
            ? ([
                [figures.tubing, `${length(layout.tubingM)}, ${words.run(layout.route.runs.length)}`],
                ...(layout.route.startName === null
                  ? []
                  : ([[figures.begins, layout.route.startName]] as const)),
              ] as const)
            : []),
          [
            figures.feeders,
            layout.feederCount === 0
              ? '0'
              : `${layout.feederCount}, ${words.together} ${length(layout.feederM)}`,
          ],
          ...(layout.feederCount > 0
            ? ([
                [figures.cut, length(layout.feederCutM)],
                [figures.longest, length(layout.longestFeederM)],
              ] as const)
            : []),
        ]}
      />
      {layout.notes.length > 0 && (
        <ul className="plain-list" data-testid="points-notes">
          {layout.notes.map(({ rule, message }) => (
            <li key={rule}>{message}</li>
          ))}
        </ul>
      )}
    </div>
  );
}
