import { useMemo, useState, type ReactElement } from 'react';
import { formatQuantity } from '../../base/quantity.ts';
import {
  FITTING_RATING_KPA,
  FITTING_SOURCE,
  FLUSH_SOURCE,
  FRICTION_LAWS,
  SCENARIO_KINDS,
  type FlushedEnd,
  type Notice,
  type Results,
  type ScenarioKind,
} from '../../derive/index.ts';
import { HAZEN_WILLIAMS_C } from '../../catalog/index.ts';
import type { Answer } from '../../editor/index.ts';
import { ChoiceField } from '../fields/ChoiceField.tsx';
import { QuantityField } from '../fields/QuantityField.tsx';
import type { Plan } from '../../plan/records.ts';
import { useEditor, useEditorState, useServices } from '../services.ts';
import { useWords } from '../words/index.ts';
import { Figures, Section } from './Figures.tsx';
import { NoticeList } from './checks/NoticeList.tsx';
import { alikeButWaivers, useRewaived } from './use-notices.ts';

const FIRST_CLOGGED = 0.1;
const NONE: readonly Notice[] = [];

/** Which situation is solved, and what it shows beyond pressures and flows. */
export function ScenarioCard(): ReactElement {
  const editor = useEditor();
  const words = useWords();
  const scenario = useEditorState((state) => state.scenario);
  const flushEnds = useEditorState((state) => state.history.plan.flushEnds);
  const answer = useEditorState((state) => state.answer);
  const friction = useEditorState((state) => state.friction);
  const choose = (kind: ScenarioKind) => {
    if (kind === 'flushing') editor.setScenario({ kind, open: [...flushEnds].map(({ id }) => id) });
    else if (kind === 'clogged') editor.setScenario({ kind, share: FIRST_CLOGGED });
    else editor.setScenario({ kind });
  };
  return (
    <Section title={words.scenario.title}>
      <ChoiceField
        label={words.scenario.kind}
        value={scenario.kind}
        options={SCENARIO_KINDS.map((kind) => ({ value: kind, label: words.scenario.kinds[kind] }))}
        onChange={choose}
      />
      <p className="field-note">{words.scenario.notes[scenario.kind]}</p>
      <ChoiceField
        label={words.scenario.friction}
        value={friction}
        options={FRICTION_LAWS.map((law) => ({ value: law, label: words.scenario.laws[law] }))}
        hint={
          friction === 'hazen-williams'
            ? `${words.scenario.hazenNote} ${HAZEN_WILLIAMS_C[0]!.source}.`
            : undefined
        }
        onChange={(law) => editor.setFriction(law)}
      />
      {scenario.kind === 'clogged' && (
        <QuantityField
          label={words.scenario.share}
          kind="percent"
          value={scenario.share * 100}
          min={0}
          max={100}
          onChange={(percent) =>
            percent !== null && editor.setScenario({ kind: 'clogged', share: percent / 100 })
          }
        />
      )}
      {scenario.kind === 'flushing' && <FlushCard open={scenario.open} answer={answer} />}
      {scenario.kind === 'static' && <StaticFigures />}
      {scenario.kind === 'dirty-filter' && answer && <FilterFigures zones={answer.results.zones} />}
      <AllSituations />
    </Section>
  );
}

/** Solves every situation once, on demand, and tells what is wrong in any. */
function AllSituations(): ReactElement {
  const words = useWords();
  const { situations } = useServices();
  const plan = useEditorState((state) => state.history.plan);
  const [busy, setBusy] = useState(false);
  const [found, setFound] = useState<{ readonly of: Plan; readonly notices: readonly Notice[] } | null>(null);
  const rewaived = useRewaived(found?.notices ?? NONE);
  // What is accepted from this list stays in it.
  const shown = found && alikeButWaivers(found.of, plan) ? rewaived : null;
  return (
    <>
      <div className="row">
        <button
          type="button"
          disabled={busy}
          onClick={() => {
            setBusy(true);
            void situations(plan)
              .then((notices) => notices && setFound({ of: plan, notices }))
              .finally(() => setBusy(false));
          }}
        >
          {busy ? words.results.solving : words.scenario.all}
        </button>
      </div>
      {shown?.length === 0 && <p className="quiet-text">{words.scenario.allGood}</p>}
      {shown && shown.length > 0 && <NoticeList notices={shown} of={found!.of} />}
    </>
  );
}

/** Highest pressure while nothing flows, against what fittings hold. */
function StaticFigures(): ReactElement {
  const words = useWords();
  const units = useEditorState((state) => state.units);
  const standing = useEditorState((state) => state.answer?.standing ?? null);
  if (!standing) return <p className="quiet-text">{words.results.solving}</p>;
  return (
    <>
      <Figures
        rows={[
          [words.scenario.highest, formatQuantity('pressure', standing.highestKpa, units)],
          [words.scenario.rating, formatQuantity('pressure', FITTING_RATING_KPA, units)],
          [words.scenario.outletsOver, String(standing.outletsOver)],
          [words.scenario.runsOver, String(standing.runsOver)],
        ]}
      />
      <p className="field-note">{FITTING_SOURCE}</p>
    </>
  );
}

/** What the filter takes and what the regulator still has to spare above its setting. */
function FilterFigures({ zones }: { readonly zones: Results['zones'] }): ReactElement {
  const words = useWords();
  const units = useEditorState((state) => state.units);
  const controls = useEditorState((state) => state.history.plan.controls);
  const show = (kpa: number) => formatQuantity('pressure', kpa, units);
  return (
    <Figures
      rows={zones.flatMap(({ owner, inletKpa, filteredKpa }) => {
        const control = owner.table === 'controls' ? controls.get(owner.id) : undefined;
        if (!control || filteredKpa === null) return [];
        return [
          [`${control.name}: ${words.scenario.filterTakes}`, show(inletKpa - filteredKpa)] as const,
          [words.scenario.toSpare, show(filteredKpa - control.setKpa)] as const,
        ];
      })}
    />
  );
}

/** Flush ends to be opened, what each gives, and which to open together. */
function FlushCard({
  open,
  answer,
}: {
  readonly open: readonly string[];
  readonly answer: Answer | null;
}): ReactElement {
  const editor = useEditor();
  const words = useWords();
  const plan = useEditorState((state) => state.history.plan);
  const services = useServices();
  const [groups, setGroups] = useState<readonly (readonly string[])[] | null>(null);
  const [busy, setBusy] = useState(false);
  const flushed = useMemo(() => new Map(answer?.flushed.map((end) => [end.id, end])), [answer]);
  const setOpen = (ids: readonly string[]) => editor.setScenario({ kind: 'flushing', open: ids });
  if (plan.flushEnds.size === 0) return <p className="advice">{words.scenario.noEnds}</p>;
  return (
    <>
      <ul className="flush-ends">
        {[...plan.flushEnds].map(({ id, runId, end }) => {
          const isOpen = open.includes(id);
          return (
            <li key={id}>
              <label>
                <input
                  type="checkbox"
                  checked={isOpen}
                  onChange={() => setOpen(isOpen ? open.filter((other) => other !== id) : [...open, id])}
                />
                {plan.runs.get(runId)?.name ?? runId}, {words.scenario.ends[end]}
              </label>
              <FlushFigure end={isOpen ? flushed.get(id) : undefined} />
            </li>
          );
        })}
      </ul>
      <p className="field-note">{FLUSH_SOURCE}</p>
      <div className="row">
        <button
          type="button"
          disabled={busy}
          onClick={() => {
            setBusy(true);
            void services
              .flushGroups(plan)
              .then(setGroups)
              .finally(() => setBusy(false));
          }}
        >
          {busy ? words.results.solving : words.scenario.groups}
        </button>
      </div>
      {groups && (
        <ol className="flush-groups">
          {groups.map((group, i) => (
            <li key={group.join()}>
              <button type="button" className="link" onClick={() => setOpen(group)}>
                {i + 1}.{' '}
                {group.map((id) => plan.runs.get(plan.flushEnds.get(id)?.runId ?? '')?.name ?? id).join(', ')}
              </button>
            </li>
          ))}
        </ol>
      )}
    </>
  );
}

function FlushFigure({ end }: { readonly end: FlushedEnd | undefined }): ReactElement {
  const words = useWords();
  const units = useEditorState((state) => state.units);
  if (!end) return <span>–</span>;
  return (
    <span data-reached={end.reached}>
      {formatQuantity('velocity', end.velocityMs, units)}{' '}
      {end.reached ? words.scenario.reached : words.scenario.slow}
    </span>
  );
}
