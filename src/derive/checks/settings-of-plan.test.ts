import { describe, expect, test } from 'vitest';
import { emptyPlan } from '../../plan/empty.ts';
import type { Plan, Waiver } from '../../plan/records.ts';
import type { Notice } from '../results.ts';
import { studyOf } from '../study.ts';
import { feederLengthRule } from './feeder-length.ts';
import { changedLimits, limitEdit, unknownLimits, USUAL_LIMITS } from './limit-edits.ts';
import { missingFor, NEEDED } from './needs.ts';
import { countFindings, ruleStates, worstFirst } from './rule-states.ts';
import { RULES } from './rules.ts';
import { every, grid } from './site-for-tests.ts';
import { limited } from './findings-for-tests.ts';
import { acceptEdit, isEverywhereOnly, takeBackEdit, waiverFor } from './waive.ts';
import { rewaived, waiverFinder, withWaivers } from './waivers.ts';

const NONE = { outletCount: 0, supplies: [] };
const notice = (
  rule: string,
  severity: Notice['severity'] = 'warning',
  ids: readonly string[] = ['a'],
): Notice => ({
  rule,
  severity,
  message: `${rule} speaks`,
  refs: ids.map((id) => ({ table: 'runs', id })),
});
const waiver = (rule: string, ids: readonly string[], reason = 'as wished'): Waiver => ({
  rule,
  refs: ids.map((id) => ({ table: 'runs', id })),
  reason,
  by: 'A. Nyone',
});
const withList = (...waivers: readonly Waiver[]): Plan => {
  const plan = emptyPlan();
  return { ...plan, checks: { ...plan.checks, waivers } };
};

describe('accepting findings', () => {
  test('a waiver needs a reason, and for an error a name', () => {
    const given = { reason: '  old stone ', by: '  ', everywhere: false };
    expect(waiverFor(notice('x'), { ...given, reason: ' \n ' })).toMatchObject({
      ok: false,
      problem: { where: 'reason' },
    });
    expect(waiverFor(notice('x', 'error'), given)).toMatchObject({ ok: false, problem: { where: 'by' } });
    expect(waiverFor(notice('x'), given)).toEqual({
      ok: true,
      value: { rule: 'x', refs: [{ table: 'runs', id: 'a' }], reason: 'old stone', by: '' },
    });
    const everywhere = waiverFor(notice('x', 'error'), { reason: 'r', by: 'b', everywhere: true });
    expect(everywhere).toMatchObject({ ok: true, value: { refs: [] } });
  });

  test('accepted and taken back, each as one edit', () => {
    const plan = emptyPlan();
    const made = waiverFor(notice('x'), { reason: 'r', by: 'b', everywhere: false });
    if (!made.ok) throw new Error('no waiver');
    const accepted = acceptEdit(made.value).apply(plan);
    expect(accepted.checks.waivers).toEqual([made.value]);
    expect(withWaivers(accepted, [notice('x')])[0]!.waived).toEqual({ reason: 'r', by: 'b' });
    const back = takeBackEdit(accepted.checks.waivers[0]!);
    expect(back.apply(accepted).checks.waivers).toEqual([]);
    expect(back.apply(plan)).toBe(plan);
  });

  test('the first waiver that covers a finding counts', () => {
    const [own, all] = [waiver('x', ['a'], 'own'), waiver('x', [], 'all')];
    const find = waiverFinder([own, all]);
    expect(find(notice('x', 'error', ['a']))).toBe(own);
    expect(find(notice('x', 'error', ['a', 'b']))).toBe(all);
    expect(find(notice('x', 'error', []))).toBe(all);
    expect(find(notice('y', 'error', ['a']))).toBeUndefined();
    expect(isEverywhereOnly(notice('x', 'error', []))).toBe(true);
  });

  test('findings of an earlier answer follow the waivers as they are now', () => {
    const before = withWaivers(withList(waiver('x', ['a'])), [notice('x'), notice('y')]);
    expect(before.map(({ waived }) => waived !== undefined)).toEqual([true, false]);
    const after = rewaived(withList(waiver('y', [])), before);
    expect(after.map(({ waived }) => waived !== undefined)).toEqual([false, true]);
    const plain = [notice('x')];
    expect(rewaived(emptyPlan(), plain)).toBe(plain);
  });
});

describe('limits of a plan', () => {
  const limit = feederLengthRule.limits[0]!;
  test('are set, listed, and given back', () => {
    const set = limitEdit(limit, limit.usual * 2).apply(emptyPlan());
    expect(set.checks.limits).toEqual({ [limit.key]: limit.usual * 2 });
    expect(changedLimits(set)).toMatchObject([
      { limit: { key: limit.key }, value: limit.usual * 2, isOutside: false },
    ]);
    expect(limitEdit(limit, null).apply(set).checks.limits).toEqual({});
    expect(limitEdit(limit, limit.usual).apply(set).checks.limits).toEqual({});
    expect(USUAL_LIMITS.apply(set).checks.limits).toEqual({});
  });
  test('figures beyond the bounds and keys of no rule are told', () => {
    const plan = limited(emptyPlan(), { [limit.key]: limit.most * 10, 'of.nobody': 3, toString: 1 });
    expect(changedLimits(plan)).toMatchObject([{ isOutside: true }]);
    expect(unknownLimits(plan)).toEqual(['of.nobody', 'toString']);
  });
});

describe('states of the rules', () => {
  test('what rules need is told for rules that are there', () => {
    const first = new Set(RULES.map(({ says }) => says[0]));
    for (const name of Object.keys(NEEDED)) expect(first.has(name), name).toBe(true);
  });

  test('an empty plan tells what is missing, the most basic first', () => {
    const plan = emptyPlan();
    const states = ruleStates(plan, NONE, []);
    expect(states).toHaveLength(RULES.length);
    const of = (number: number) => states.find(({ rule }) => rule.number === number)!.state;
    expect(of(3)).toEqual({ kind: 'not told', missing: expect.stringContaining('no outlet is laid out') });
    expect(of(40)).toEqual({ kind: 'in order' });
    expect(
      missingFor(
        RULES.find(({ number }) => number === 3)!,
        plan,
        { ...NONE, outletCount: 5 },
      ),
    ).toContain('no pressure is known');
  });

  test('what is open goes before what is accepted', () => {
    const open = notice('feeder-long', 'error', ['b']);
    const accepted = { ...notice('feeder-long'), waived: { reason: 'r', by: '' } };
    const of = (...notices: Notice[]) =>
      ruleStates(emptyPlan(), NONE, notices).find(({ rule }) => rule === feederLengthRule)!.state;
    expect(of(notice('feeder-long'), accepted, open)).toEqual({ kind: 'speaks', count: 2, worst: 'error' });
    expect(of(accepted)).toEqual({ kind: 'accepted', count: 1 });
    expect(countFindings([accepted, open, notice('x')])).toEqual({
      error: 1,
      warning: 1,
      info: 0,
      accepted: 1,
    });
    const about = (count: number) => ({
      ...notice('y'),
      refs: Array.from({ length: count }, (_, k) => ({ table: 'plants', id: `P${k}` }) as const),
    });
    expect(
      worstFirst([about(2), notice('z'), about(157)]).map(({ rule, refs }) => [rule, refs.length]),
    ).toEqual([
      ['y', 157],
      ['y', 2],
      ['z', notice('z').refs.length],
    ]);
    expect(worstFirst([notice('x', 'info'), notice('y'), open]).map(({ rule }) => rule)).toEqual([
      'feeder-long',
      'y',
      'x',
    ]);
  });

  test.each([0, 12])(
    'no rule speaks on a slope of %i percent of which it says that a fact is missing',
    (percent) => {
      const plan = grid(every(0.6), { percent });
      const { results, notices } = studyOf(plan);
      const spoke = new Set(notices.map(({ rule }) => rule));
      expect(spoke.size).toBeGreaterThan(0);
      const silent = RULES.filter((rule) => missingFor(rule, plan, results) !== null);
      expect(silent.length).toBeGreaterThan(0);
      for (const rule of silent) for (const says of rule.says) expect(spoke.has(says), says).toBe(false);
    },
  );
});
