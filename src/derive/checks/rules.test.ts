import { describe, expect, test } from 'vitest';
import { Table } from '../../base/table.ts';
import type { Plan, Ref } from '../../plan/records.ts';
import { control, dripline, level, planOf, supply } from '../plan-for-tests.ts';
import { studyOf } from '../study.ts';
import { FURTHER_RULES } from './further.ts';
import { limitOf, LIMITS, ruleOf, RULES } from './index.ts';

describe('the rules', () => {
  test('are the forty, each once and in order, and those beyond them', () => {
    const numbers = RULES.flatMap(({ number }) => (number === null ? [] : [number]));
    expect(numbers).toEqual(Array.from({ length: 40 }, (_, i) => i + 1));
    expect(FURTHER_RULES.filter(({ number }) => number !== null)).toEqual([]);
  });
  test('each has a title, a source and something to say, said by no other rule', () => {
    for (const { title, source, says } of RULES) {
      expect(title).toMatch(/^[A-Z0-9].{7,}[^.]$/);
      expect(source.length).toBeGreaterThan(5);
      expect(says.length).toBeGreaterThan(0);
    }
    const says = RULES.flatMap((rule) => rule.says);
    expect(says.filter((word, i) => says.indexOf(word) !== i)).toEqual([]);
    expect(new Set(RULES.map(({ title }) => title)).size).toBe(RULES.length);
    expect(ruleOf('feeder-long')?.number).toBe(16);
    expect(ruleOf('nothing of the kind')).toBeUndefined();
  });
  test('limits have keys of their own, a source, and a usual figure within their bounds', () => {
    const keys = LIMITS.map(({ key }) => key);
    expect(keys.filter((key, i) => keys.indexOf(key) !== i)).toEqual([]);
    for (const { key, label, usual, least, most, source } of LIMITS) {
      expect(key).toMatch(/^[a-z][a-z-]*\.[a-z-]+$/);
      expect(label.length, key).toBeGreaterThan(5);
      expect(source.length, key).toBeGreaterThan(5);
      expect(least, key).toBeLessThanOrEqual(usual);
      expect(most, key).toBeGreaterThanOrEqual(usual);
    }
  });
});

test('a limit of the plan goes before the usual one; names of other things are no limits', () => {
  const limit = LIMITS[0]!;
  const look = (limits: Record<string, number>) => limitOf({ checks: { limits, waivers: [] } })(limit);
  expect(look({})).toBe(limit.usual);
  expect(look({ [limit.key]: limit.usual + 1 })).toBe(limit.usual + 1);
  // What a file can bring: beyond the range, or no number at all.
  const [below, above] = [limit.least - 1, limit.most + 1];
  expect(look({ [limit.key]: below })).toBe(limit.least);
  expect(look({ [limit.key]: above })).toBe(limit.most);
  for (const none of [NaN, Infinity, -Infinity, '3' as unknown as number, null as unknown as number]) {
    expect(look({ [limit.key]: none })).toBe(limit.usual);
  }
  expect(limitOf({ checks: { limits: {}, waivers: [] } })({ ...limit, key: 'constructor' })).toBe(
    limit.usual,
  );
});

describe('what is accepted as it is', () => {
  /** Two zones without flush ends. */
  const base = planOf({
    levels: [level('a', 0, 0, 0)],
    supplies: [supply('V1', [0, 0]), supply('V2', [0, 20])],
    controls: [control('C1', [0, 0]), control('C2', [0, 20])],
    runs: [
      dripline('R1', [
        [0, 0],
        [9, 0],
      ]),
      dripline('R2', [
        [0, 20],
        [9, 20],
      ]),
    ],
  });
  const waived = (...refs: Ref[]): readonly string[] => {
    const plan: Plan = {
      ...base,
      checks: {
        limits: {},
        waivers: [
          { rule: 'no-flush-end', refs, reason: 'rinsed at the last emitter', by: 'J. Planner' },
          { rule: 'feeder-long', refs: [], reason: 'other', by: 'other' },
        ],
      },
    };
    const { notices } = studyOf(plan);
    const all = notices.filter(({ rule }) => rule === 'no-flush-end');
    expect(all).toHaveLength(2);
    expect(
      all.every(({ message, severity }) => message.includes('no flush end') && severity === 'error'),
    ).toBe(true);
    expect(notices.filter((one) => one.waived && one.rule !== 'no-flush-end')).toEqual([]);
    return all.flatMap((one) => {
      if (one.waived) expect(one.waived).toEqual({ reason: 'rinsed at the last emitter', by: 'J. Planner' });
      return one.waived ? [one.refs[0]!.id] : [];
    });
  };
  test('keeps its text and says why, everywhere or at the records named', () => {
    expect(waived()).toEqual(['C1', 'C2']);
    const first = [
      { table: 'controls', id: 'C1' },
      { table: 'runs', id: 'R1' },
    ] as const;
    expect(waived(...first)).toEqual(['C1']);
    expect(waived(...first, { table: 'controls', id: 'C2' }, { table: 'runs', id: 'R2' })).toEqual([
      'C1',
      'C2',
    ]);
  });
  test('a finding that concerns more than was accepted still stands', () => {
    expect(waived({ table: 'controls', id: 'C1' })).toEqual([]);
    // The same name in another table is another record.
    expect(waived({ table: 'runs', id: 'C1' }, { table: 'runs', id: 'R1' })).toEqual([]);
  });
  test('and one without records only where all of the rule is accepted', () => {
    const noisy: Plan = {
      ...base,
      water: { ...base.water, staticKpa: 400, lowStaticKpa: 500 },
      supplies: Table.of([...base.supplies]),
    };
    const told = (refs: readonly Ref[]) =>
      studyOf({
        ...noisy,
        checks: { limits: {}, waivers: [{ rule: 'low-static-above-static', refs, reason: 'r', by: 'b' }] },
      }).notices.find(({ rule }) => rule === 'low-static-above-static')!;
    expect(told([]).waived).toEqual({ reason: 'r', by: 'b' });
    expect(told([{ table: 'supplies', id: 'V1' }]).waived).toBeUndefined();
  });
});
