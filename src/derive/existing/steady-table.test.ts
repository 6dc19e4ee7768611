import { describe, expect, test } from 'vitest';
import { Table } from '../../base/table.ts';
import type { Head, Plan } from '../../plan/records.ts';
import { level, supply } from '../plan-for-tests.ts';
import { coverageOf } from './coverage/index.ts';
import { expectedDripFlow } from './expected-drip.ts';
import { lateralsOf, tieInEdits, tieInsOf } from './lateral/index.ts';
import { bed, head, pipe, zone } from './lateral/nets-for-tests.ts';
import { alikeButFate, steadyTable } from './steady-table.ts';
import { verdictOf } from './verdict/index.ts';

const H1 = head('H1', [1, 1]);
const H2 = head('H2', [5, 1]);

describe('steady table', () => {
  test('is the former one while nothing but fates changed, else the new one', () => {
    const steady = steadyTable<Head>(alikeButFate);
    const first = Table.of([H1, H2]);
    expect(steady(first)).toBe(first);
    const capped = first.with({ ...H1, fate: 'cap' });
    expect(steady(capped)).toBe(first);
    expect(steady(capped.with({ ...H2, fate: 'tie-in' }))).toBe(first);
    expect(steady(first)).toBe(first);
    for (const changed of [
      first.with({ ...H1, at: [1, 2] }),
      first.with({ ...H1, flowLph: null }),
      first.without(['H2']),
      first.with(head('H3', [0, 0])),
      Table.of([H2, H1]),
      first.with({ ...H1, blocked: true, fate: 'cap' }),
    ]) {
      const other = steadyTable<Head>(alikeButFate);
      other(first);
      expect(other(changed)).toBe(changed);
    }
  });

  test('what matters may be more than the other fields', () => {
    const keeps = (a: Head, b: Head): boolean => (a.fate === 'keep') === (b.fate === 'keep');
    const steady = steadyTable<Head>(keeps);
    const first = Table.of([H1, H2]);
    steady(first);
    expect(steady(first.with({ ...H1, fate: 'cap' }))).toBe(first);
    const kept = first.with({ ...H1, fate: 'keep' });
    expect(steady(kept)).toBe(kept);
  });
});

describe('choosing a tie-in', () => {
  const plan: Plan = zone({
    supplies: [supply('V', [0, 0])],
    laterals: [
      pipe('V', 'T', [0, 0], [1, 0]),
      pipe('T', 'H1', [1, 0], [1, 1]),
      pipe('T', 'H2', [1, 0], [5, 1]),
    ],
    heads: [
      { ...H1, pattern: { kind: 'sector', radiusM: 2, startDeg: 0, sweepDeg: 360 } },
      { ...H2, pattern: { kind: 'sector', radiusM: 2, startDeg: 0, sweepDeg: 360 } },
    ],
    levels: [level('1', 0, 0, 0), level('2', 5, 0, -0.1), level('3', 0, 5, 0)],
    areas: [bed('B', 0, 0, 6, 3)],
  });

  test('computes nothing anew of ground wetted, old pipe, tie-ins and expected flow', () => {
    const before = [coverageOf(plan), tieInsOf(plan), lateralsOf(plan)[0], expectedDripFlow(plan, null)];
    const best = tieInsOf(plan)[0]!.candidates[0]!;
    const made = tieInEdits(plan, best).apply(plan);
    expect([...made.heads].map(({ fate }) => fate)).not.toEqual([...plan.heads].map(({ fate }) => fate));
    expect([...made.laterals].map(({ fate }) => fate)).toContain('live');
    const after = [coverageOf(made), tieInsOf(made), lateralsOf(made)[0], expectedDripFlow(made, null)];
    after.slice(0, 3).forEach((one, i) => expect(one).toBe(before[i]));
    expect(after[3]).toEqual(before[3]);
  });

  test('but a head that is kept splits the zone, in the ranking and in the verdict', () => {
    const first = tieInsOf(plan);
    const kept = { ...plan, heads: plan.heads.with({ ...plan.heads.get('H1')!, fate: 'keep' as const }) };
    expect(tieInsOf(kept)).not.toBe(first);
    expect(tieInsOf(kept)[0]!.candidates[0]!.untilSplit).toEqual(['H1']);
    expect(verdictOf(plan, 'us').outcome).not.toBe('split');
    expect(verdictOf(kept, 'us').outcome).toBe('split');
    // And back again.
    expect(verdictOf({ ...plan }, 'us').outcome).not.toBe('split');
  });

  test('and a moved head or pipe changes all', () => {
    const first = [coverageOf(plan), tieInsOf(plan)];
    const moved = { ...plan, heads: plan.heads.with({ ...plan.heads.get('H1')!, at: [1, 2] }) };
    expect(coverageOf(moved)).not.toBe(first[0]);
    expect(tieInsOf(moved)).not.toBe(first[1]);
    const wider = { ...plan, laterals: plan.laterals.with({ ...plan.laterals.get('T-H1')!, size: '1' }) };
    expect(tieInsOf(wider)).not.toBe(tieInsOf(moved));
  });
});
