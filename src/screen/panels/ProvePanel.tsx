import { memo, useMemo, useState, type ReactElement } from 'react';
import { formatQuantity } from '../../base/quantity.ts';
import type { Results } from '../../derive/results.ts';
import { stepOutlet } from '../canvas/keys.ts';
import { useTouch } from '../canvas/touch.ts';
import { useEditor, useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { Section } from './Figures.tsx';
import { Legend } from './Legend.tsx';
import { AcceptanceCard, DrainCard, LongestRunCard } from './LimitsCard.tsx';
import { ChecksCard } from './checks/ChecksCard.tsx';
import { Notices } from './checks/Notices.tsx';
import { RunTable } from './RunTable.tsx';
import { ScenarioCard } from './ScenarioCard.tsx';
import { useNotices } from './use-notices.ts';
import { ZoneFigures } from './ZoneFigures.tsx';

/** Longest list of outlets shown at once; the rest is on the sheets. */
const MOST_ROWS = 400;

/** One outlet of the list; drawn anew only when it is looked at or has new figures. */
const OutletRow = memo(function OutletRow({
  outlet,
  index,
  looked,
}: {
  readonly outlet: Results['outlets'][number];
  readonly index: number;
  readonly looked: boolean;
}): ReactElement {
  const editor = useEditor();
  const words = useWords().results;
  const units = useEditorState((state) => state.units);
  const look = () => editor.lookAt(index);
  return (
    <li>
      <button
        type="button"
        data-state={outlet.state}
        aria-current={looked ? 'true' : undefined}
        onFocus={look}
        onClick={look}
        onMouseEnter={look}
      >
        <span>{outlet.number}</span>
        <span>{formatQuantity('pressure', outlet.pressureKpa, units)}</span>
        <span>{formatQuantity('outletFlow', outlet.flowLph, units)}</span>
        <span>{outlet.state === 'good' ? '' : words.states[outlet.state]}</span>
      </button>
    </li>
  );
});

function OutletList({ results }: { readonly results: Results }): ReactElement | null {
  const editor = useEditor();
  const words = useWords();
  const runs = useEditorState((state) => state.history.plan.runs);
  const chosen = useEditorState((state) => state.selection.find((ref) => ref.table === 'runs')?.id);
  const looked = useEditorState((state) => state.outlet);
  const byFinger = useTouch();
  const [own, setOwn] = useState<string | null>(null);
  const withOutlets = useMemo(() => [...new Set(results.outlets.map((outlet) => outlet.runId))], [results]);
  const shown = [chosen, own].find((id) => id && withOutlets.includes(id)) ?? withOutlets[0];
  const rows = useMemo(
    () => results.outlets.flatMap((outlet, index) => (outlet.runId === shown ? [{ outlet, index }] : [])),
    [results, shown],
  );
  if (!shown) return null;
  return (
    <Section title={words.results.outlets}>
      <div className="field">
        <label htmlFor="outlet-run">{words.results.outletList}</label>
        <select
          id="outlet-run"
          value={shown}
          onChange={(event) => {
            setOwn(event.currentTarget.value);
            editor.select([]);
          }}
        >
          {withOutlets.map((id) => (
            <option key={id} value={id}>
              {runs.get(id)?.name ?? id}
            </option>
          ))}
        </select>
      </div>
      {!byFinger && <p className="field-note">{words.results.step}</p>}
      <div className="row outlet-steps">
        <button type="button" onClick={() => stepOutlet(editor, -1)}>
          {words.results.stepBack}
        </button>
        <button type="button" onClick={() => stepOutlet(editor, 1)}>
          {words.results.stepOn}
        </button>
      </div>
      <ol className="outlets">
        {rows.slice(0, MOST_ROWS).map(({ outlet, index }) => (
          <OutletRow key={index} outlet={outlet} index={index} looked={looked === index} />
        ))}
      </ol>
      {rows.length > MOST_ROWS && <p className="field-note">{`${MOST_ROWS} / ${rows.length}`}</p>}
    </Section>
  );
}

/** Pressures, flows and checks. */
export function ProvePanel(): ReactElement {
  const words = useWords();
  const answer = useEditorState((state) => state.answer);
  const notices = useNotices();
  const results = answer?.results;
  return (
    <>
      <ScenarioCard />
      <LongestRunCard />
      <Section title={words.results.title}>
        {!results && <p className="quiet-text">{words.results.solving}</p>}
        {results && results.outletCount === 0 && <p className="advice">{words.results.none}</p>}
        {results && results.outletCount > 0 && (
          <>
            <ZoneFigures results={results} />
            <Legend results={results} />
          </>
        )}
      </Section>
      <Notices notices={notices} />
      <ChecksCard notices={notices} />
      {results && results.runs.size > 0 && (
        <Section title={words.results.runs}>
          <RunTable results={results} />
        </Section>
      )}
      {results && <AcceptanceCard results={results} />}
      <DrainCard />
      {results && <OutletList results={results} />}
    </>
  );
}
