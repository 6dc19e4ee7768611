import { useMemo, useState, type ReactElement } from 'react';
import { formatQuantity, type QuantityKind } from '../../base/quantity.ts';
import type { Results } from '../../derive/results.ts';
import { useEditor, useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { Figures, Section } from './Figures.tsx';
import { Legend } from './Legend.tsx';
import { Notices } from './Notices.tsx';
import { useNotices } from './use-notices.ts';

/** Longest list of outlets shown at once; the rest is on the sheets. */
const MOST_ROWS = 400;

/** Flow, pressures and uniformity of the whole zone. */
export function ZoneFigures({ results }: { readonly results: Results }): ReactElement {
  const words = useWords();
  const units = useEditorState((state) => state.units);
  const show = (kind: QuantityKind, value: number) => formatQuantity(kind, value, units);
  const { uniformity } = results;
  return (
    <Figures
      rows={[
        [
          words.results.total,
          <strong key="total" data-testid="total-flow">
            {show('zoneFlow', results.totalFlowLph)}
          </strong>,
        ],
        [words.results.outlets, String(results.outletCount)],
        [
          words.results.range,
          `${show('pressure', results.lowestKpa)} – ${show('pressure', results.highestKpa)}`,
        ],
        ...(uniformity
          ? ([
              [words.results.uniformity, formatQuantity('percent', uniformity.dulq, units, { digits: 1 })],
              [words.results.cu, formatQuantity('percent', uniformity.cu, units, { digits: 1 })],
              [
                words.results.variation,
                formatQuantity('percent', uniformity.flowVariation, units, { digits: 1 }),
              ],
            ] as const)
          : []),
        ...results.zones.map(
          (zone) =>
            [
              `${words.tables[zone.owner.table]} ${zone.owner.id}`,
              `${show('zoneFlow', zone.flowLph)}, ${show('pressure', zone.inletKpa)} → ${show('pressure', zone.outletKpa)}`,
            ] as const,
        ),
        [
          words.results.proof,
          `${(results.solution.energyErrorM * 1000).toExponential(0)} mm`,
          words.results.proofHint,
        ],
      ]}
    />
  );
}

/** Runs with their figures; choosing one selects it and lists its outlets. */
export function RunTable({ results }: { readonly results: Results }): ReactElement {
  const editor = useEditor();
  const words = useWords();
  const units = useEditorState((state) => state.units);
  const runs = useEditorState((state) => state.history.plan.runs);
  const chosen = useEditorState((state) => state.selection.find((ref) => ref.table === 'runs')?.id);
  return (
    <table className="schedule">
      <thead>
        <tr>
          <th scope="col">{words.results.run}</th>
          <th scope="col">{words.canvas.length}</th>
          <th scope="col">{words.results.outlets}</th>
          <th scope="col">{words.select.inlet}</th>
          <th scope="col">{words.select.worst}</th>
        </tr>
      </thead>
      <tbody>
        {[...runs].map((run) => {
          const result = results.runs.get(run.id);
          return (
            <tr key={run.id} aria-selected={run.id === chosen}>
              <th scope="row">
                <button
                  type="button"
                  className="link"
                  onClick={() => editor.select([{ table: 'runs', id: run.id }])}
                >
                  {run.name || run.id}
                </button>
              </th>
              <td>{result ? formatQuantity('length', result.lengthM, units) : '–'}</td>
              <td>{result?.outletCount ?? '–'}</td>
              <td>{result ? formatQuantity('pressure', result.inletKpa, units) : '–'}</td>
              <td>{result ? formatQuantity('pressure', result.worstKpa, units) : '–'}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

function OutletList({ results }: { readonly results: Results }): ReactElement | null {
  const editor = useEditor();
  const words = useWords();
  const units = useEditorState((state) => state.units);
  const runs = useEditorState((state) => state.history.plan.runs);
  const chosen = useEditorState((state) => state.selection.find((ref) => ref.table === 'runs')?.id);
  const looked = useEditorState((state) => state.outlet);
  const [own, setOwn] = useState<string | null>(null);
  const withOutlets = useMemo(() => [...new Set(results.outlets.map((outlet) => outlet.runId))], [results]);
  const shown = [chosen, own].find((id) => id && withOutlets.includes(id)) ?? withOutlets[0];
  if (!shown) return null;
  const rows = results.outlets.flatMap((outlet, index) =>
    outlet.runId === shown ? [{ outlet, index }] : [],
  );
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
      <p className="field-note">{words.results.step}</p>
      <ol className="outlets">
        {rows.slice(0, MOST_ROWS).map(({ outlet, index }) => (
          <li key={index}>
            <button
              type="button"
              data-state={outlet.state}
              aria-current={looked === index ? 'true' : undefined}
              onFocus={() => editor.lookAt(index)}
              onClick={() => editor.lookAt(index)}
              onMouseEnter={() => editor.lookAt(index)}
            >
              <span>{outlet.number}</span>
              <span>{formatQuantity('pressure', outlet.pressureKpa, units)}</span>
              <span>{formatQuantity('outletFlow', outlet.flowLph, units)}</span>
              <span>{outlet.state === 'good' ? '' : words.results.states[outlet.state]}</span>
            </button>
          </li>
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
      {results && results.runs.size > 0 && (
        <Section title={words.results.runs}>
          <RunTable results={results} />
        </Section>
      )}
      {results && <OutletList results={results} />}
    </>
  );
}
