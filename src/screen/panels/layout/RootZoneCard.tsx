import { useDeferredValue, useMemo, useState, type ReactElement } from 'react';
import { formatQuantity, type UnitSystem } from '../../../base/quantity.ts';
import {
  driestPlants,
  LONGEST_UNSET_H,
  rootShareOf,
  rootShares,
  rootZoneWater,
  SHIFT_SOURCE,
  usualFlowLph,
  WETTED_AIM_SOURCE,
  wettingBasis,
  wetWidths,
  type WettingOutlet,
} from '../../../derive/wetting/index.ts';
import { textureOf } from '../../../derive/soil/index.ts';
import { wettingLegend, wettingOutlets } from '../../../drawing/index.ts';
import { viewSubjects } from '../../../editor/index.ts';
import type { Plan, Plant } from '../../../plan/records.ts';
import { ChoiceField } from '../../fields/ChoiceField.tsx';
import { useEditor, useEditorState } from '../../services.ts';
import { useShownPlan } from '../../canvas/use-drawing.ts';
import { useWords } from '../../words/index.ts';
import { Figures, Section } from '../Figures.tsx';
import { SamplePicture } from '../LegendSigns.tsx';
import { useShow } from '../use-show.ts';
import { Tick } from './FillFields.tsx';

const ROOTS = ['off', 'now', 'mature'] as const;

/** Which soil gets wet below the outlets, and how much of the plants' roots it reaches. */
export function RootZoneCard(): ReactElement {
  const editor = useEditor();
  const words = useWords().wetting;
  const plan = useShownPlan();
  const isProposed = useEditorState((state) => state.draft.edit !== null);
  const results = useEditorState((state) => state.answer?.results ?? null);
  const units = useEditorState((state) => state.units);
  const showWetted = useEditorState((state) => state.showWetted);
  const showRoots = useEditorState((state) => state.showRoots);
  const outlets = wettingOutlets(plan, results);
  const unmeasured = useMemo(
    () => [...plan.plants].filter(({ canopyNowM }) => canopyNowM === null).length,
    [plan.plants],
  );
  return (
    <Section id="layout-roots" title={words.title}>
      <Tick label={words.showWetted} checked={showWetted} onChange={(show) => editor.setShowWetted(show)} />
      <ChoiceField
        label={words.showRoots}
        value={showRoots}
        options={ROOTS.map((value) => ({ value, label: words.roots[value] }))}
        onChange={(show) => editor.setShowRoots(show)}
      />
      {showRoots === 'now' && unmeasured > 0 && (
        <p className="advice">{words.noneNow(unmeasured, plan.plants.size)}</p>
      )}
      <Signs />
      {outlets.length === 0 ? (
        <p className="advice">{words.noOutlets}</p>
      ) : (
        <Soil plan={plan} outlets={outlets} units={units} />
      )}
      {plan.plants.size === 0 ? (
        <p className="advice">{words.noPlants}</p>
      ) : (
        <>
          {isProposed && <p className="field-note">{words.proposed}</p>}
          <Chosen plan={plan} outlets={outlets} units={units} />
          <Driest plan={plan} outlets={outlets} units={units} />
        </>
      )}
    </Section>
  );
}

/** Signs of what is shown; the legend of the pressures in this view leaves them to this card. */
function Signs(): ReactElement | null {
  const words = useWords().wetting;
  const entries = wettingLegend(useEditorState(viewSubjects));
  if (entries.length === 0) return null;
  return (
    <div className="legend" role="group" aria-label={words.legend} data-testid="roots-legend">
      {entries.map((entry) =>
        entry.kind === 'mark' ? (
          <p key={entry.words} className="legend-mark">
            <SamplePicture sample={entry.sample} />
            {entry.words}
          </p>
        ) : null,
      )}
    </div>
  );
}

interface Props {
  readonly plan: Plan;
  readonly outlets: readonly WettingOutlet[];
  readonly units: UnitSystem;
}

/** What the wet soil is reckoned from, and what other sources say. */
function Soil({ plan, outlets, units }: Props): ReactElement {
  const words = useWords().wetting;
  const basis = useMemo(() => wettingBasis(plan), [plan]);
  const flowLph = useMemo(() => usualFlowLph(outlets), [outlets]);
  const length = (metres: number) => formatQuantity('length', metres, units);
  const [used, ...others] = wetWidths(basis, flowLph ?? 0);
  const known = textureOf(plan.soil).texture !== null;
  return (
    <>
      <div data-testid="roots-soil">
        <Figures
          rows={[
            [words.figures.soil, known ? basis.texture : words.taken(basis.texture)],
            [
              words.figures.until,
              basis.minutes === null
                ? words.untilDepth(length(basis.rootDepthM), LONGEST_UNSET_H)
                : words.minutes(String(Math.round(basis.minutes))),
            ],
            ...(flowLph === null
              ? []
              : ([
                  [
                    words.figures.width(formatQuantity('outletFlow', flowLph, units)),
                    length(used!.widthM),
                    `${used!.source}. Downhill: ${SHIFT_SOURCE}.`,
                  ],
                ] as const)),
          ]}
        />
      </div>
      {basis.missing.map((sentence) => (
        <p key={sentence} className="advice">
          {sentence}
        </p>
      ))}
      <details>
        <summary>{words.widths}</summary>
        <Figures rows={others.map(({ name, widthM, source }) => [name, length(widthM), source] as const)} />
        <ul className="plain-list">
          {[used!, ...others].map(({ source }) => (
            <li key={source} className="field-note">
              {source}
            </li>
          ))}
        </ul>
        <p className="field-note">{words.widthsHint}</p>
      </details>
      <p className="field-note">{words.notes}</p>
    </>
  );
}

/** Figures of the plant that is chosen. */
function Chosen({ plan, outlets, units }: Props): ReactElement {
  const words = useWords().wetting;
  const selection = useEditorState((state) => state.selection);
  const plants = useMemo(
    () => selection.flatMap(({ table, id }) => (table === 'plants' ? (plan.plants.get(id) ?? []) : [])),
    [plan, selection],
  );
  if (plants.length !== 1)
    return <p className="quiet-text">{plants.length ? words.several(plants.length) : words.choose}</p>;
  return <OnePlant plan={plan} outlets={outlets} units={units} plant={plants[0]!} />;
}

function OnePlant({ plan, outlets, units, plant }: Props & { readonly plant: Plant }): ReactElement {
  const words = useWords().wetting;
  const { figures } = words;
  const share = useMemo(() => rootShareOf(plan, outlets, plant), [plan, outlets, plant]);
  const water = useMemo(() => rootZoneWater(plant, outlets), [plant, outlets]);
  return (
    <div data-testid="roots-plant">
      <Figures
        rows={[
          [figures.now, share.now === null ? words.notKnown : percent(share.now, units), WETTED_AIM_SOURCE],
          [figures.mature, percent(share.mature, units), WETTED_AIM_SOURCE],
          [figures.outlets, String(water.outletCount)],
          [figures.flow, formatQuantity('outletFlow', water.flowLph, units)],
        ]}
      />
      <p className="field-note">{words.aim}</p>
      <p className="field-note">{WETTED_AIM_SOURCE}</p>
    </div>
  );
}

/** The driest plants; reckoned only while the list is open, after what is more urgent. */
function Driest(props: Props): ReactElement {
  const words = useWords().wetting;
  const [isOpen, setOpen] = useState(false);
  return (
    <details onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{words.list}</summary>
      {isOpen && <DriestList {...props} />}
    </details>
  );
}

function DriestList({ plan, outlets, units }: Props): ReactElement {
  const words = useWords().wetting;
  const classes = useWords().classes;
  const show = useShow();
  const now = useDeferredValue(plan);
  const there = useDeferredValue(outlets);
  const list = useMemo(() => driestPlants(now.plants, rootShares(now, there)), [now, there]);
  return (
    <>
      <p className="field-note">{words.listHint}</p>
      <ol className="roots-list" data-testid="roots-driest">
        {list.map(({ plant, share }) => (
          <li key={plant.id}>
            <button
              type="button"
              className="quiet roots-plant"
              onClick={() => show([{ table: 'plants', id: plant.id }])}
            >
              <span>{`${plant.id} ${plant.name || classes[plant.plantClass]}`}</span>
              <span>{percent(share.mature, units)}</span>
            </button>
          </li>
        ))}
      </ol>
    </>
  );
}

const percent = (share: number, units: UnitSystem): string =>
  formatQuantity('percent', share * 100, units, { digits: 0 });
