import { useMemo, type ReactElement } from 'react';
import { legendOf } from '../../drawing/index.ts';
import { shownPlan } from '../../editor/index.ts';
import { emptyPlan } from '../../plan/empty.ts';
import { useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { Section } from './Figures.tsx';
import { SamplePicture } from './LegendSigns.tsx';

/** Signs of the old heads and pipes that are on the plan as it is shown, a preview of fates included. */
export function PipeLegend(): ReactElement | null {
  const words = useWords();
  const units = useEditorState((state) => state.units);
  const heads = useEditorState((state) => shownPlan(state).heads);
  const laterals = useEditorState((state) => shownPlan(state).laterals);
  const supplies = useEditorState((state) => shownPlan(state).supplies);
  const entries = useMemo(
    () => legendOf(null, units, { ...emptyPlan(), heads, laterals, supplies }),
    [units, heads, laterals, supplies],
  );
  if (heads.size + laterals.size === 0) return null;
  return (
    <Section title={words.heads.legend}>
      <div className="legend" data-testid="pipe-legend">
        {entries.map((entry) =>
          entry.kind === 'mark' ? (
            <p key={entry.words} className="legend-mark">
              <SamplePicture sample={entry.sample} />
              {entry.words}
            </p>
          ) : null,
        )}
      </div>
    </Section>
  );
}
