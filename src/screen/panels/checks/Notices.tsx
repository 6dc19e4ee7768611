import type { ReactElement } from 'react';
import { countFindings } from '../../../derive/checks/index.ts';
import type { Notice } from '../../../derive/results.ts';
import { useEditorState } from '../../services.ts';
import { useWords } from '../../words/index.ts';
import { Section } from '../Figures.tsx';
import { NoticeList } from './NoticeList.tsx';

/** Findings of the checks. */
export function Notices({ notices }: { readonly notices: readonly Notice[] }): ReactElement {
  const words = useWords();
  const offered = useEditorState((state) => state.offer !== null);
  const { error, warning, info, accepted } = countFindings(notices);
  return (
    <Section title={words.notices.title}>
      {offered && (
        <p className="field-note" data-testid="counts-offer">
          {words.offer.counted}
        </p>
      )}
      {notices.length === 0 && <p className="quiet-text">{words.notices.none}</p>}
      {accepted > 0 && accepted === notices.length && (
        <p className="quiet-text">{words.checks.allAccepted}</p>
      )}
      {error + warning + info > 0 && (
        <p className="field-note" data-testid="open-findings">
          {words.checks.open(error, warning, info)}
        </p>
      )}
      <NoticeList notices={notices} />
    </Section>
  );
}
