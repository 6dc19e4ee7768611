import { describe, expect, test } from 'vitest';
import { Table } from '../../base/table.ts';
import type { Plan } from '../../plan/records.ts';
import { control, dripline, planOf, PSI, supply } from '../plan-for-tests.ts';
import { studyOf } from '../study.ts';

const site = (supplyPsi: number, setPsi: number, law = 'inline-plain'): Plan =>
  planOf({
    supplies: [supply('V', [0, 0], { pressureKpa: supplyPsi * PSI })],
    controls: [control('C', [0, 0], { setKpa: setPsi * PSI })],
    runs: [
      dripline(
        'R',
        [
          [0, 0],
          [9, 0],
        ],
        { law },
      ),
    ],
  });
const find = (plan: Plan, rule: string) => studyOf(plan).notices.find((notice) => notice.rule === rule)!;

describe('advice fits the cause', () => {
  test('a regulator that the supply starves: both ways out, and no advice to raise its setting', () => {
    const plan = site(6, 25);
    const regulator = find(plan, 'regulator-headroom');
    expect(regulator.severity).toBe('error');
    expect(regulator.message).toMatch(
      /^The supply gives only [\d.]+ psi at the regulator .* needs 30\.0 psi/,
    );
    expect(regulator.message).toContain('Lower the set pressure');
    expect(regulator.message).toContain('bring more pressure');
    const low = find(plan, 'outlet-pressure-low');
    expect(low.message).not.toMatch(/raise the set pressure/i);
    expect(low.message).toContain('The cause is the supply');
  });
  test('a setting that is too low: raise it', () => {
    const low = find(site(60, 7), 'outlet-pressure-low');
    expect(low.message).toContain('Raise the set pressure');
    expect(low.message).not.toContain('cause is the supply');
  });
  test('below range is an error only where less than nine tenths of the rated flow leave', () => {
    // Plain outlets are rated at 15 psi: 7 psi give 68 %. Compensating ones begin at 7 psi: 6 psi give 93 %.
    expect(find(site(60, 7), 'outlet-pressure-low').severity).toBe('error');
    expect(find(site(60, 6.2, 'inline-pc'), 'outlet-pressure-low').severity).toBe('warning');
    expect(find(site(60, 4, 'inline-pc'), 'outlet-pressure-low').severity).toBe('error');
  });
  test('no message holds a plural in brackets, none a source that is only remembered', () => {
    const plans = [site(6, 25), site(60, 7), site(60, 60), { ...site(60, 25), supplies: Table.of([]) }];
    for (const { message, source } of plans.flatMap((plan) => studyOf(plan as Plan).notices)) {
      expect(message).not.toMatch(/\(s\)|window/);
      expect(source ?? '').not.toMatch(/from memory/);
    }
  });
});
