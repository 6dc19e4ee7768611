import { Fragment, type ReactElement } from 'react';
import { useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { Section } from './Figures.tsx';
import { FillCard } from './layout/FillCard.tsx';
import { PlantCards } from './layout/PlantCards.tsx';
import { RootZoneCard } from './layout/RootZoneCard.tsx';
import { SlopeCard } from './layout/SlopeCard.tsx';
import { Legend } from './Legend.tsx';
import { ChecksCard } from './checks/ChecksCard.tsx';
import { Notices } from './checks/Notices.tsx';
import { RunTable } from './RunTable.tsx';
import { useNotices } from './use-notices.ts';
import { ZoneFigures } from './ZoneFigures.tsx';

/** While drip is drawn: the zone's figures and what is wrong with it. */
export function LayoutPanel(): ReactElement {
  const words = useWords();
  const results = useEditorState((state) => state.answer?.results);
  const notices = useNotices();
  // Values that were typed for one plan are not kept for the next.
  const openings = useEditorState((state) => state.openings);
  return (
    <>
      <Fragment key={openings}>
        <FillCard />
        <SlopeCard />
        <PlantCards />
      </Fragment>
      <Section title={words.results.title}>
        {results && results.outletCount > 0 ? (
          <>
            <ZoneFigures results={results} />
            <Legend results={results} soil={false} />
          </>
        ) : (
          <p className="advice">{words.results.none}</p>
        )}
      </Section>
      <RootZoneCard />
      <Notices notices={notices} />
      <ChecksCard notices={notices} />
    </>
  );
}

/** The plan on paper and the schedule of runs. */
export function BuildPanel({ onPrint }: { onPrint(): void }): ReactElement {
  const words = useWords();
  const results = useEditorState((state) => state.answer?.results);
  return (
    <>
      <Section title={words.build.title}>
        <p className="quiet-text">{words.build.text}</p>
        <div className="row">
          <button type="button" className="primary" onClick={onPrint}>
            {words.build.print}
          </button>
        </div>
        <p className="advice">{words.build.caution}</p>
      </Section>
      {results && results.runs.size > 0 && (
        <Section title={words.build.runs}>
          <RunTable results={results} />
        </Section>
      )}
      <p className="quiet-text section">{words.build.missing}</p>
    </>
  );
}

/** An honest word for a view that does nothing yet. */
export function ComingPanel({ view }: { readonly view: 'water' | 'teach' }): ReactElement {
  const words = useWords();
  return (
    <Section title={words.coming[view].title}>
      <p className="quiet-text">{words.coming[view].text}</p>
    </Section>
  );
}
