import type { ReactElement } from 'react';
import { formatQuantity, type QuantityKind } from '../../base/quantity.ts';
import type { Results } from '../../derive/results.ts';
import { useEditor, useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { Figures } from './Figures.tsx';

/** How many outlets there are, and how many of them are in trouble. */
function Counts({ results }: { readonly results: Results }): ReactElement {
  const words = useWords();
  const trouble = (['low', 'high', 'dry', 'apart'] as const).filter((state) => results.counts[state] > 0);
  return (
    <>
      {results.outletCount}
      {trouble.map((state) => (
        <span key={state} className="trouble">
          {results.counts[state]} {words.results.states[state]}
        </span>
      ))}
    </>
  );
}

/** Pressure of an outlet with its place; choosing it shows it on the plan. */
function OutletLink({
  results,
  index,
}: {
  readonly results: Results;
  readonly index: number | null;
}): ReactElement {
  const editor = useEditor();
  const words = useWords();
  const units = useEditorState((state) => state.units);
  const runs = useEditorState((state) => state.history.plan.runs);
  const outlet = index === null ? undefined : results.outlets[index];
  if (!outlet) return <>–</>;
  return (
    <button type="button" className="link" onClick={() => editor.lookAt(index)}>
      {formatQuantity('pressure', Math.max(0, outlet.pressureKpa), units)}
      {outlet.state === 'dry' ? ` (${words.results.states.dry})` : ''},{' '}
      {runs.get(outlet.runId)?.name ?? outlet.runId} {words.results.emitter} {outlet.number}
    </button>
  );
}

/** Flow, pressures and uniformity of the whole zone. */
export function ZoneFigures({ results }: { readonly results: Results }): ReactElement {
  const words = useWords();
  const units = useEditorState((state) => state.units);
  const plan = useEditorState((state) => state.history.plan);
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
        [words.results.outlets, <Counts key="counts" results={results} />],
        [words.results.lowest, <OutletLink key="lowest" results={results} index={results.lowestOutlet} />],
        [words.results.highest, <OutletLink key="highest" results={results} index={results.highestOutlet} />],
        [
          words.results.uniformity,
          uniformity ? formatQuantity('percent', uniformity.dulq, units, { digits: 1 }) : '–',
        ],
        ...results.zones.map(
          (zone) =>
            [
              plan[zone.owner.table].get(zone.owner.id)?.name || zone.owner.id,
              `${show('zoneFlow', zone.flowLph)}, ${show('pressure', zone.inletKpa)} → ${show('pressure', zone.outletKpa)}`,
            ] as const,
        ),
      ]}
    />
  );
}
