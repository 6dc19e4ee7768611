import { describe, expect, test } from 'vitest';
import { acceptEdit, LIMITS, limitEdit, ruleOf, waiverFor } from '../derive/checks/index.ts';
import { studyOf } from '../derive/study.ts';
import type { Plan } from '../plan/records.ts';
import { writePlan } from '../plan/file.ts';
import { demoPlan } from './demo-plan.ts';
import { runStudy } from './study-command.ts';

/** What the command prints for a plan that was saved to a file. */
function run(plan: Plan, ...args: string[]): string {
  let out = '';
  const code = runStudy(['plan.json', ...args], {
    read: () => writePlan({ ...plan, photo: null }, null),
    out: (text) => (out += text),
    error: (text) => (out += text),
  });
  expect(code, out).toBe(0);
  return out;
}
const json = (plan: Plan): Record<string, any> => JSON.parse(run(plan, '--json')) as Record<string, any>;

/** The sample plan without flush ends, which is an error with a way out. */
const faulty = (): Plan => {
  const plan = demoPlan('p');
  const flushEnds = plan.flushEnds.without([...plan.flushEnds].map(({ id }) => id));
  return { ...plan, photo: null, flushEnds, checks: { limits: {}, waivers: [] } };
};
const errorOf = (plan: Plan) => studyOf(plan).notices.find(({ severity }) => severity === 'error')!;

describe('checks of the study', () => {
  test('each finding with the number of its rule, its way out and its waiver', () => {
    const { checks, notices, version } = json(faulty());
    expect(version).toBe(4);
    expect(checks).toHaveLength(notices.length);
    for (const check of checks) {
      expect(Object.keys(check)).toEqual([
        'number',
        'rule',
        'severity',
        'message',
        'refs',
        'source',
        'fix',
        'waived',
      ]);
      expect(check.number).toBe(ruleOf(check.rule)?.number ?? null);
    }
    expect(checks.find((check: any) => check.rule === 'no-flush-end')).toMatchObject({
      number: 9,
      severity: 'error',
      refs: expect.arrayContaining([expect.stringMatching(/^runs\/|^controls\//)]),
      source: expect.stringContaining('WaterSense'),
      fix: 'Set flush ends',
      waived: null,
    });
  });

  test('a waiver in the file comes back with its finding, which stays in the list', () => {
    const plan = faulty();
    const made = waiverFor(errorOf(plan), {
      reason: 'the old end opens',
      by: 'A. Sample',
      everywhere: false,
    });
    if (!made.ok) throw new Error('no waiver');
    const accepted = acceptEdit(made.value).apply(plan);
    const { checks } = json(accepted);
    expect(checks.find((check: any) => check.rule === 'no-flush-end')).toMatchObject({
      severity: 'error',
      waived: { reason: 'the old end opens', by: 'A. Sample' },
    });
    expect(run(plan)).toMatch(/Findings \(\d+, 1 error open\)/);
    const text = run(accepted);
    expect(text).toMatch(/Findings \(\d+, 1 accepted\)/);
    expect(text).toMatch(/\[no-flush-end\] .*Accepted as it is by A\. Sample: the old end opens/);
  });

  test('limits that differ from the usual ones', () => {
    const limit = LIMITS.find(({ key }) => key === 'velocity-high.most')!;
    const changed = json(limitEdit(limit, 0.1).apply(faulty()));
    expect(changed['limits']).toEqual([
      { key: 'velocity-high.most', kind: 'velocity', value: 0.1, usual: limit.usual },
    ]);
    const speaks = (study: Record<string, any>) =>
      study['checks'].some((check: any) => check.rule === 'velocity-high');
    expect(speaks(changed)).toBe(true);
    const usual = json(faulty());
    expect([usual['limits'], speaks(usual)]).toEqual([[], false]);
  });
});
