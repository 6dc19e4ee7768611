import type { ReactElement } from 'react';
import { formatQuantity } from '../../base/quantity.ts';
import { plantsOf } from '../../plan/emitter-plants.ts';
import { toScreen } from '../../editor/index.ts';
import { useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { useShownPlan } from './use-drawing.ts';

/** The values of the outlet that the person looks at, beside it. */
export function OutletCard(): ReactElement | null {
  const words = useWords();
  const plan = useShownPlan();
  const camera = useEditorState((state) => state.camera);
  const units = useEditorState((state) => state.units);
  const number = useEditorState((state) => state.outlet);
  const answer = useEditorState((state) => state.answer);
  const outlet = number === null ? undefined : answer?.results.outlets[number];
  if (!outlet) return null;
  const [x, y] = toScreen(camera, outlet.at);
  const toLeft = x > camera.widthPx - 230;
  const above = y > camera.heightPx - 150;
  const run = plan.runs.get(outlet.runId);
  const plants = plantsOf(outlet)
    .flatMap((id) => plan.plants.get(id) ?? [])
    .map(({ name, plantClass }) => name || words.classes[plantClass]);
  return (
    <div
      className="outlet-card"
      role="status"
      data-state={outlet.state}
      style={{
        left: Math.min(Math.max(toLeft ? x - 222 : x + 14, 4), Math.max(camera.widthPx - 226, 4)),
        top: Math.min(Math.max(above ? y - 128 : y + 12, 4), Math.max(camera.heightPx - 132, 4)),
      }}
    >
      <p className="outlet-title">
        {run?.name ?? outlet.runId} · {words.results.emitter} {outlet.number}
      </p>
      <p className="outlet-figures">
        <strong>{formatQuantity('pressure', outlet.pressureKpa, units)}</strong>
        <strong>{formatQuantity('outletFlow', outlet.flowLph, units)}</strong>
      </p>
      <p className="outlet-note">
        {words.results.states[outlet.state]} · {words.results.rated}{' '}
        {formatQuantity('outletFlow', outlet.ratedFlowLph, units)}
        {plants.length > 0 ? ` · ${[...new Set(plants)].join(', ')}` : ''}
        {outlet.feederM > 0
          ? ` · ${words.results.feeder} ${formatQuantity('length', outlet.feederM, units)}`
          : ''}
      </p>
    </div>
  );
}
