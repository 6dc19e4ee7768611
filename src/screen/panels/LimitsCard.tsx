import { useState, type ReactElement } from 'react';
import { formatQuantity } from '../../base/quantity.ts';
import { acceptanceOf, drainDown, longestRun, type DrainDown, type Results } from '../../derive/index.ts';
import { QuantityField } from '../fields/QuantityField.tsx';
import { useEditor, useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { Figures, Section } from './Figures.tsx';

/** Uniformity against the published bands; they disagree, so all are shown. */
export function AcceptanceCard({ results }: { readonly results: Results }): ReactElement | null {
  const words = useWords();
  const units = useEditorState((state) => state.units);
  const percent = (value: number | null) =>
    value === null ? '–' : formatQuantity('percent', value, units, { digits: 1 });
  if (!results.uniformity) return null;
  return (
    <Section title={words.limits.uniformity}>
      <Figures
        rows={[
          [words.results.uniformity, percent(results.uniformity.dulq)],
          [words.results.cu, percent(results.uniformity.cu)],
          [words.results.variation, percent(results.uniformity.flowVariation)],
          [words.limits.eu, percent(results.eu)],
          [words.limits.us, percent(results.us)],
        ]}
      />
      <details className="bands">
        <summary>{words.limits.bands}</summary>
        <ul>
          {acceptanceOf(results).map((entry, i) => (
            <li key={i}>
              <p>
                {entry.measure} {percent(entry.percent)}: <strong>{entry.className}</strong>
              </p>
              <p className="field-note">{[entry.applies, entry.source].filter(Boolean).join('. ')}</p>
            </li>
          ))}
        </ul>
      </details>
    </Section>
  );
}

/** Less than this at an outlet is not worth a line, litres. */
const LEAST_L = 0.2;
/** Most outlets listed of those that drain. */
const MOST = 8;

/** What runs out after the valve has shut, and where. */
export function DrainCard(): ReactElement {
  const editor = useEditor();
  const words = useWords();
  const plan = useEditorState((state) => state.history.plan);
  const units = useEditorState((state) => state.units);
  const [drained, setDrained] = useState<{
    readonly of: typeof plan;
    readonly now: DrainDown;
    readonly bare: DrainDown;
  } | null>(null);
  const volume = (litres: number) => formatQuantity('volume', litres, units);
  const shown = drained?.of === plan ? drained : null;
  return (
    <Section title={words.limits.drain}>
      <p className="field-note">{words.limits.drainNote}</p>
      {!shown && (
        <div className="row">
          <button
            type="button"
            onClick={() =>
              setDrained({ of: plan, now: drainDown(plan), bare: drainDown(plan, { checks: false }) })
            }
          >
            {words.limits.drainShow}
          </button>
        </div>
      )}
      {shown && (
        <>
          <Figures
            rows={[
              [words.limits.inTubing, volume(shown.now.totalL)],
              [words.limits.runsOut, volume(shown.now.drainedL)],
              [words.limits.stays, volume(shown.now.heldL)],
              ...(plan.checkValves.size > 0
                ? ([[words.limits.withoutChecks, volume(shown.bare.drainedL)]] as const)
                : []),
            ]}
          />
          <ol className="outlets">
            {shown.now.outlets
              .filter(({ volumeL }) => volumeL >= LEAST_L)
              .slice(0, MOST)
              .map((outlet) => (
                <li key={outlet.outlet}>
                  <button type="button" onClick={() => editor.lookAt(outlet.outlet)}>
                    <span>{outlet.number}</span>
                    <span>{volume(outlet.volumeL)}</span>
                    <span className="wide">{plan.runs.get(outlet.runId)?.name ?? outlet.runId}</span>
                  </button>
                </li>
              ))}
          </ol>
        </>
      )}
    </Section>
  );
}

/** How long the chosen kind of dripline may be, solved for a slope and an inlet pressure. */
export function LongestRunCard(): ReactElement | null {
  const words = useWords();
  const units = useEditorState((state) => state.units);
  const selection = useEditorState((state) => state.selection);
  const plan = useEditorState((state) => state.history.plan);
  const results = useEditorState((state) => state.answer?.results);
  const [slopePercent, setSlope] = useState(0);
  const run = selection[0]?.table === 'runs' ? plan.runs.get(selection[0].id) : undefined;
  if (!run?.inline) return null;
  const inletKpa = results?.runs.get(run.id)?.inletKpa ?? NaN;
  if (!Number.isFinite(inletKpa)) return null;
  const longest = (limit: 'min-pressure' | 'flow-variation-10') => {
    const found = longestRun({ ...run.inline!, tubing: run.tubing, inletKpa, slopePercent, limit });
    return `${formatQuantity('length', found.lengthM, units)}, ${found.outlets}`;
  };
  return (
    <Section title={words.limits.longest}>
      <p className="field-note">{words.limits.longestNote}</p>
      <QuantityField
        label={words.limits.slope}
        kind="slope"
        value={slopePercent}
        min={-100}
        max={100}
        onChange={(percent) => percent !== null && setSlope(percent)}
      />
      <Figures
        rows={[
          [words.select.inlet, formatQuantity('pressure', inletKpa, units)],
          [words.limits.byPressure, longest('min-pressure')],
          [words.limits.byVariation, longest('flow-variation-10')],
        ]}
      />
    </Section>
  );
}
