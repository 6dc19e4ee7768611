import type { ReactElement } from 'react';
import type { Results } from '../../derive/results.ts';
import { legendOf, wettingLegend } from '../../drawing/index.ts';
import { viewSubjects } from '../../editor/index.ts';
import { useEditorState } from '../services.ts';
import { SamplePicture } from './LegendSigns.tsx';

/**
 * Colours and signs of the outlets, as on the sheets.
 * @param soil whether wet soil and root zones are in it; no where a card has their signs
 */
export function Legend({
  results,
  soil = true,
}: {
  readonly results: Results;
  readonly soil?: boolean;
}): ReactElement {
  const units = useEditorState((state) => state.units);
  const show = useEditorState(viewSubjects);
  return (
    <div className="legend">
      {[...legendOf(results, units), ...(soil ? wettingLegend(show) : [])].map((entry) =>
        entry.kind === 'ramp' ? (
          <figure key={entry.words} className="ramp">
            <figcaption>{entry.words}</figcaption>
            <div
              className="ramp-bar"
              style={{
                background: `linear-gradient(to right, ${entry.stops.map((stop) => stop.color).join(', ')})`,
              }}
            />
            <div className="ramp-words">
              {entry.stops
                .filter((_, i) => i % 2 === 0)
                .map((stop) => (
                  <span key={stop.pressureKpa}>{stop.words}</span>
                ))}
            </div>
          </figure>
        ) : (
          <p key={entry.words} className="legend-mark">
            <SamplePicture sample={entry.sample} />
            {entry.words}
          </p>
        ),
      )}
    </div>
  );
}
