import { formatQuantity, type UnitSystem } from '../base/quantity.ts';
import { changedLimits, countFindings, worstFirst } from '../derive/checks/index.ts';
import type { Notice } from '../derive/results.ts';
import type { Plan } from '../plan/records.ts';
import type { Row, Schedule } from './table.ts';
import { WORDS } from './words.ts';

/** More findings than this are only counted: the sheets are a plan, not a log. */
const MOST_NOTICES = 40;
/** Words of a finding and the reason to accept it are to be read whole; lines of a row. */
const MOST_LINES = 24;

/**
 * What the checks still had to say when the sheets were made: errors first, else in the order given. What is accepted
 * is left to `acceptedSchedule`.
 */
export function noticeSchedule(notices: readonly Notice[]): Schedule {
  const words = WORDS.check;
  const open = worstFirst(notices.filter(({ waived }) => !waived));
  const { error } = countFindings(notices);
  return {
    title: WORDS.checks,
    mostLines: MOST_LINES,
    ...(error > 0 ? { note: words.openErrors(error) } : {}),
    columns: [
      { head: words.severity, align: 'left' },
      { head: words.message, align: 'left' },
      { head: words.source, align: 'left' },
    ],
    rows: firstOf(open, ({ severity, message, source }) => [
      words.severities[severity],
      message,
      source ?? WORDS.none,
    ]),
  };
}

/** Findings that the plan accepts as they are, the worst first, each with the reason and who decided so. */
export function acceptedSchedule(notices: readonly Notice[]): Schedule {
  const words = WORDS.check;
  const accepted = worstFirst(notices.filter(({ waived }) => waived));
  return {
    title: WORDS.accepted,
    mostLines: MOST_LINES,
    columns: [
      { head: words.severity, align: 'left' },
      { head: words.message, align: 'left' },
      { head: words.reason, align: 'left' },
      { head: words.by, align: 'left' },
    ],
    rows: firstOf(accepted, ({ severity, message, waived }) => [
      words.severities[severity],
      message,
      waived!.reason,
      waived!.by || WORDS.none,
    ]),
  };
}

function firstOf(notices: readonly Notice[], cellsOf: (notice: Notice) => readonly string[]): Row[] {
  const rows = notices.slice(0, MOST_NOTICES).map((notice): Row => ({ cells: cellsOf(notice) }));
  const rest = notices.length - MOST_NOTICES;
  const columns = rows[0]?.cells.length ?? 2;
  if (rest > 0) rows.push({ cells: ['', WORDS.check.more(rest), ...Array<string>(columns - 2).fill('')] });
  return rows;
}

/** Limits of the checks that this plan holds at other figures than the usual ones. */
export function limitSchedule(plan: Pick<Plan, 'checks'>, units: UnitSystem): Schedule {
  const words = WORDS.check;
  return {
    title: WORDS.limits,
    columns: [
      { head: words.rule, align: 'left' },
      { head: words.limit, align: 'left' },
      { head: words.here, align: 'right' },
      { head: words.usual, align: 'right' },
    ],
    rows: changedLimits(plan).map(({ rule, limit, value }): Row => {
      const { kind, usual } = limit;
      return {
        cells: [
          rule.number === null ? rule.title : words.numbered(rule.number, rule.title),
          limit.label,
          formatQuantity(kind, value, units),
          formatQuantity(kind, usual, units),
        ],
      };
    }),
  };
}

/** The line of the title block that leads to them; empty while no error and no warning is open. */
export function openChecks(notices: readonly Notice[]): string {
  const { error, warning } = countFindings(notices);
  return error + warning > 0 ? WORDS.check.open(error, warning) : '';
}
