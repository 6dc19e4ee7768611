import { useRef, useState, type ReactElement } from 'react';
import { worstFirst } from '../../../derive/checks/index.ts';
import type { Notice } from '../../../derive/results.ts';
import type { Plan } from '../../../plan/records.ts';
import { useWords } from '../../words/index.ts';
import { AcceptedGroup } from './AcceptedGroup.tsx';
import { Finding } from './Finding.tsx';

const SIGN = { error: '✕', warning: '!', info: 'i' } as const;
/** Findings of one rule that are listed before a press lists the rest. */
const MOST_LISTED = 40;

/**
 * Findings, the worst first, those of one rule together; below them what is accepted as it is.
 * @param of the plan that they were found on, whose ways out are then still good; without it that of the answer
 */
export function NoticeList({
  notices,
  of,
}: {
  readonly notices: readonly Notice[];
  readonly of?: Plan;
}): ReactElement {
  const list = useRef<HTMLDivElement>(null);
  const open = worstFirst(notices.filter(({ waived }) => !waived));
  const rules = [...new Set(open.map(({ rule }) => rule))];
  const groups = rules.map((rule) => open.filter((notice) => notice.rule === rule));
  // What was pressed is gone with its finding: keys go on from the head of the list.
  const goOn = () => list.current?.focus();
  return (
    <div className="findings" ref={list} tabIndex={-1}>
      {groups.length > 0 && (
        <ul className="notices">
          {groups.map((group) => (
            <RuleGroup key={group[0]!.rule} group={group} of={of} onGone={goOn} />
          ))}
        </ul>
      )}
      <AcceptedGroup notices={notices} part={of !== undefined} onGone={goOn} />
    </div>
  );
}

/** The findings of one rule: the first, and the others on request. */
function RuleGroup({
  group,
  of,
  onGone,
}: {
  readonly group: readonly Notice[];
  readonly of: Plan | undefined;
  onGone(): void;
}): ReactElement {
  const words = useWords();
  const [opened, setOpened] = useState(false);
  const [whole, setWhole] = useState(false);
  const [first, ...more] = group;
  const { severity } = first!;
  const shown = whole ? more : more.slice(0, MOST_LISTED);
  return (
    <li data-severity={severity} data-rule={first!.rule}>
      <span className="notice-sign" aria-hidden="true">
        {SIGN[severity]}
      </span>
      <div className="notice-body">
        <span className="sr-only">{words.notices[severity]}: </span>
        <Finding notice={first!} of={of} onGone={onGone} />
        {more.length > 0 && (
          <details onToggle={(event) => setOpened(event.currentTarget.open)}>
            <summary>
              {more.length} {words.notices.more}
            </summary>
            {opened && (
              <ul className="notices-more">
                {shown.map((notice, i) => (
                  <li key={i}>
                    <Finding notice={notice} of={of} onGone={onGone} />
                  </li>
                ))}
              </ul>
            )}
            {opened && shown.length < more.length && (
              <button type="button" onClick={() => setWhole(true)}>
                {words.checks.all(more.length)}
              </button>
            )}
          </details>
        )}
      </div>
    </li>
  );
}
