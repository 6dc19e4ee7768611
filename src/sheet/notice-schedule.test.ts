import { describe, expect, test } from 'vitest';
import { FOOT_M } from '../base/units.ts';
import { RULES } from '../derive/checks/index.ts';
import type { Notice } from '../derive/results.ts';
import { acceptedSchedule, limitSchedule, noticeSchedule, openChecks } from './notice-schedule.ts';
import type { Schedule } from './table.ts';

const cellsOf = ({ rows }: Schedule): string[][] => rows.map(({ cells }) => [...cells]);
const notice = (severity: Notice['severity'], message: string, more: Partial<Notice> = {}): Notice => ({
  rule: 'sample',
  severity,
  message,
  refs: [],
  ...more,
});
const waived = { reason: 'the old bed stays', by: 'A. Sample' };

describe('open checks', () => {
  test('errors come first, each with its source; more than 40 are counted', () => {
    const warnings = Array.from({ length: 44 }, (_, i) => notice('warning', `warning ${i}`));
    const rows = cellsOf(
      noticeSchedule([...warnings, notice('error', 'no pressure', { source: 'Handbook, 1999' })]),
    );
    expect(rows).toHaveLength(41);
    expect(rows[0]).toEqual(['error', 'no pressure', 'Handbook, 1999']);
    expect(rows[1]).toEqual(['warning', 'warning 0', '–']);
    expect(rows[40]).toEqual(['', '+ 5 more', '']);
  });

  test('the head of the schedule counts the errors that are open', () => {
    const errors = [notice('error', 'a'), notice('error', 'b'), notice('error', 'c', { waived })];
    expect(noticeSchedule(errors).note).toBe('2 design errors open');
    expect(noticeSchedule([errors[0]!]).note).toBe('1 design error open');
    expect(noticeSchedule([errors[2]!, notice('warning', 'd')]).note).toBeUndefined();
  });

  test('the line in the title block counts errors and warnings that are not accepted', () => {
    expect(openChecks([notice('error', ''), notice('error', ''), notice('warning', '')])).toBe(
      '2 design errors, 1 warning open: see schedules',
    );
    expect(openChecks([notice('warning', ''), notice('info', ''), notice('error', '', { waived })])).toBe(
      '1 warning open: see schedules',
    );
    expect(openChecks([notice('info', ''), notice('warning', '', { waived })])).toBe('');
  });
});

describe('what is accepted', () => {
  test('stands in a schedule of its own with reason and name, the worst first', () => {
    const given = [
      notice('warning', 'far', { waived: { reason: 'short run', by: '' } }),
      notice('error', 'mixed', { waived }),
      notice('error', 'open'),
    ];
    expect(cellsOf(acceptedSchedule(given))).toEqual([
      ['error', 'mixed', 'the old bed stays', 'A. Sample'],
      ['warning', 'far', 'short run', '–'],
    ]);
    expect(cellsOf(noticeSchedule(given))).toEqual([['error', 'open', '–']]);
    expect(acceptedSchedule([given[2]!]).rows).toEqual([]);
  });
});

describe('limits', () => {
  const checks = (limits: Readonly<Record<string, number>>) => ({ checks: { limits, waivers: [] } });
  test('that differ from the usual ones are listed in the units of the sheet', () => {
    const plan = checks({ 'feeder-long.warning': 8 * FOOT_M, 'filter-mesh.least': 150, 'of.nobody': 1 });
    const title = RULES.find(({ says }) => says[0] === 'feeder-long')!.title;
    expect(cellsOf(limitSchedule(plan, 'us'))).toEqual([
      [`16. ${title}`, expect.any(String), expect.stringMatching(/^8'/), expect.stringMatching(/^6'/)],
    ]);
    expect(cellsOf(limitSchedule(plan, 'metric'))[0]!.slice(2)).toEqual(['2.44 m', '1.83 m']);
    expect(limitSchedule(checks({}), 'us').rows).toEqual([]);
  });
});
