import type { ReactElement } from 'react';
import type { Notice } from '../../derive/results.ts';
import { useWords } from '../words/index.ts';
import { Section } from './Figures.tsx';
import { useShow } from './use-show.ts';

const SIGN = { error: '✕', warning: '!', info: 'i' } as const;

/** Findings of the checks. */
export function Notices({ notices }: { readonly notices: readonly Notice[] }): ReactElement {
  const words = useWords();
  return (
    <Section title={words.notices.title}>
      {notices.length === 0 && <p className="quiet-text">{words.notices.none}</p>}
      <NoticeList notices={notices} />
    </Section>
  );
}

/** Notices, the worst first, those of one rule together; choosing one shows what it is about. */
export function NoticeList({ notices }: { readonly notices: readonly Notice[] }): ReactElement {
  const words = useWords();
  const rank = { error: 0, warning: 1, info: 2 } as const;
  const sorted = notices.toSorted((a, b) => rank[a.severity] - rank[b.severity]);
  const rules = [...new Set(sorted.map((notice) => notice.rule))];
  const groups = rules.map((rule) => sorted.filter((notice) => notice.rule === rule));
  const showRefs = useShow();
  const show = (notice: Notice) => showRefs(notice.refs);
  return (
    <ul className="notices">
      {groups.map(([first, ...more]) => (
        <li key={first!.rule} data-severity={first!.severity}>
          <span className="notice-sign" aria-hidden="true">
            {SIGN[first!.severity]}
          </span>
          <div>
            <span className="sr-only">{words.notices[first!.severity]}: </span>
            <NoticeText notice={first!} onShow={show} />
            {more.length > 0 && (
              <details>
                <summary>
                  {more.length} {words.notices.more}
                </summary>
                {more.map((notice, i) => (
                  <NoticeText key={i} notice={notice} onShow={show} />
                ))}
              </details>
            )}
            {first!.source && <p className="field-note">{first!.source}</p>}
          </div>
        </li>
      ))}
    </ul>
  );
}

function NoticeText({
  notice,
  onShow,
}: {
  readonly notice: Notice;
  onShow(notice: Notice): void;
}): ReactElement {
  if (!notice.refs.length) return <p>{notice.message}</p>;
  return (
    <button type="button" className="link" onClick={() => onShow(notice)}>
      {notice.message}
    </button>
  );
}
