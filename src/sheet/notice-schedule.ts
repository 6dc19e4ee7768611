import type { Notice } from '../derive/results.ts';
import type { Row, Schedule } from './table.ts';
import { WORDS } from './words.ts';

/** More findings than this are only counted: the sheets are a plan, not a log. */
const MOST_NOTICES = 40;
const RANK: Readonly<Record<Notice['severity'], number>> = { error: 0, warning: 1, info: 2 };

/** What the checks still had to say when the sheets were made: errors first, else in the order given. */
export function noticeSchedule(notices: readonly Notice[]): Schedule {
  const words = WORDS.check;
  const sorted = notices.toSorted((a, b) => RANK[a.severity] - RANK[b.severity]);
  const rows = sorted
    .slice(0, MOST_NOTICES)
    .map(({ severity, message }): Row => ({ cells: [words.severities[severity], message] }));
  if (sorted.length > MOST_NOTICES) rows.push({ cells: ['', words.more(sorted.length - MOST_NOTICES)] });
  return {
    title: WORDS.checks,
    columns: [
      { head: words.severity, align: 'left' },
      { head: words.message, align: 'left' },
    ],
    rows,
  };
}

/** The line of the title block that leads to them; empty while no error and no warning is open. */
export function openChecks(notices: readonly Notice[]): string {
  const count = (severity: Notice['severity']): number =>
    notices.filter((notice) => notice.severity === severity).length;
  const [errors, warnings] = [count('error'), count('warning')];
  return errors + warnings > 0 ? WORDS.check.open(errors, warnings) : '';
}
