import { describe, expect, test } from 'vitest';
import { Table } from '../../base/table.ts';
import { regulatorById } from '../../catalog/index.ts';
import { solve } from '../../hydraulics/index.ts';
import type { ControlSet, FlushEnd, Level, Plan, WaterService } from '../../plan/records.ts';
import { blank, control, dripline, level, planOf, PSI, supply } from '../plan-for-tests.ts';
import type { Notice } from '../results.ts';
import { studyOf } from '../study.ts';
import { flushGroups, overdrawnIn } from './flushing.ts';
import { networkFor } from './network-for.ts';
import { scenarioNotices } from './scenario-notices.ts';

interface Site {
  readonly water?: Partial<WaterService>;
  readonly levels?: readonly Level[];
  readonly control?: Partial<ControlSet>;
  readonly flush?: boolean;
  readonly law?: string;
}

/** A header along y with rows of dripline to the east. */
function rows(count: number, site: Site = {}): Plan {
  const plan = planOf({
    levels: site.levels ?? [],
    supplies: [supply('V', [0, 0], { pressureKpa: null })],
    controls: [control('C', [0, 0], site.control)],
    runs: [
      blank('H', [0, 0], [0, count]),
      ...Array.from({ length: count }, (_, k) =>
        dripline(
          `R${k}`,
          [
            [0, 1 + k],
            [15, 1 + k],
          ],
          { law: site.law ?? 'inline-plain' },
        ),
      ),
    ],
  });
  const ends = Array.from({ length: count }, (_, k): FlushEnd => ({
    id: `F${k}`,
    runId: `R${k}`,
    end: 'end',
  }));
  return {
    ...plan,
    water: { ...plan.water, staticKpa: 60 * PSI, ...site.water },
    flushEnds: Table.of(site.flush ? ends : []),
  };
}
const of = (plan: Plan, situation: string): Notice[] =>
  scenarioNotices(plan, 'us').filter(({ message }) => message.startsWith(`${situation}: `));
const rulesOf = (plan: Plan, situation: string): string[] => of(plan, situation).map(({ rule }) => rule);
const large = { regulator: 'window-0.5-15', filter: 'disc-120' };

describe('every message names its situation', () => {
  test('whatever is wrong with the plan', () => {
    const slope = [level('a', 0, 0, 0), level('b', 15, 0, -12), level('c', 0, 9, 0), level('d', 15, 9, -12)];
    for (const plan of [
      rows(2),
      rows(4, { flush: true, levels: slope }),
      rows(12, { flush: true, water: { lowStaticKpa: 7 * PSI } }),
    ]) {
      const notices = scenarioNotices(plan, 'us');
      expect(notices.length).toBeGreaterThan(2);
      for (const { message, source } of notices) {
        expect(message).toMatch(
          /^(?:Running|No flow|Low supply|Dirty filter|Clogged|Flushing|After shut-off): \S/,
        );
        expect(source ?? '').not.toMatch(/from memory|to be checked/);
      }
      expect(new Set(notices.map(({ message }) => message)).size).toBe(notices.length);
    }
  });
  test('what could not be checked is told as info, with where to type it', () => {
    const bare = scenarioNotices(rows(2), 'us').filter(({ rule }) => rule === 'situation-not-checked');
    expect(bare.map(({ message }) => message)).toEqual([
      'Low supply: not checked, the lowest static pressure is not typed: Survey, Water service.',
      'Flushing: not checked, no flush ends are set.',
    ]);
    expect(new Set(bare.map(({ severity }) => severity))).toEqual(new Set(['info']));
    const known = rows(2, { flush: true, water: { lowStaticKpa: 50 * PSI } });
    expect(scenarioNotices(known, 'us').map(({ rule }) => rule)).not.toContain('situation-not-checked');
    const dry = scenarioNotices(rows(2, { water: { staticKpa: null } }), 'us');
    expect(dry.map(({ message }) => message)).toContain(
      'Other situations: not checked, no pressure is known at a supply: Survey, Water service.',
    );
    expect(dry.map(({ rule }) => rule)).toContain('supply-pressure');
    expect(scenarioNotices(planOf({}), 'us')).toEqual([]);
  });
  test('the study has what other situations bring, and nothing twice', () => {
    const plan = rows(3, { water: { lowStaticKpa: 7 * PSI } });
    const messages = studyOf(plan).notices.map(({ message }) => message);
    expect(new Set(messages).size).toBe(messages.length);
    expect(messages.some((message) => message.startsWith('Low supply: '))).toBe(true);
    expect(messages.some((message) => message.startsWith('Running: '))).toBe(false);
  });
});

describe('no flow, low supply, dirty filter, clogged', () => {
  test('what stands over its rating with no flow is told there alone', () => {
    const low = rows(2, {
      levels: [level('a', 0, 0, 0), level('b', 15, 0, -12), level('c', 0, 9, 0), level('d', 15, 9, -12)],
    });
    expect(rulesOf(low, 'No flow')).toEqual(['static-pressure-outlets']);
    expect(rulesOf(low, 'Running')).not.toContain('static-pressure-outlets');
    expect(rulesOf(rows(2), 'No flow')).toEqual([]);
  });
  test('outlets and regulators that fall short at the lowest static pressure, with another hour as a way out', () => {
    const short = of(rows(3, { water: { lowStaticKpa: 6 * PSI } }), 'Low supply');
    expect(short.map(({ rule }) => rule)).toEqual(expect.arrayContaining(['regulator-headroom']));
    const low = short.filter(({ rule }) => rule === 'outlet-pressure-low');
    expect(low).toHaveLength(1);
    expect(low[0]!.refs).toHaveLength(3);
    expect(low[0]!.message).toMatch(/outlets of runs .*, .*, /);
    for (const { message } of short) expect(message).toMatch(/Or water at an hour of less use\.$/);
    const held = of(rows(3, { water: { lowStaticKpa: 20 * PSI } }), 'Low supply');
    expect(held.map(({ rule, severity }) => [rule, severity])).toEqual([['regulator-headroom', 'error']]);
    expect(held[0]!.message).toContain('setting of 25.0 psi');
    expect(rulesOf(rows(3, { water: { lowStaticKpa: 50 * PSI } }), 'Low supply')).toEqual([]);
  });
  test('what a dirty filter takes, and not what running has already', () => {
    // 25 psi and 5 to spare against 31 psi: a clean filter leaves enough, a dirty one does not.
    const near = rows(6, { water: { staticKpa: 31 * PSI } });
    expect(rulesOf(near, 'Running')).not.toContain('regulator-headroom');
    expect(rulesOf(near, 'Dirty filter')).toEqual(['regulator-headroom']);
    expect(rulesOf(rows(6), 'Dirty filter')).toEqual([]);
    // A single row of compensating outlets on level ground: too small a flow for the regulator in either state.
    const small = rows(1, { control: { regulator: 'window-2-20' }, law: 'inline-pc' });
    expect(rulesOf(small, 'Running')).toContain('regulator-flow-low');
    expect(rulesOf(small, 'Dirty filter')).toEqual([]);
  });
  test('a tenth clogged is told where the zone adds to it, and what emitters all alike would have', () => {
    expect(of(rows(3), 'Clogged')).toEqual([]);
    const uphill = [level('a', 0, 0, 0), level('b', 15, 0, 12), level('c', 0, 9, 0), level('d', 15, 9, 12)];
    const [told] = of(rows(3, { levels: uphill }), 'Clogged');
    expect(told).toMatchObject({ rule: 'clogged-uniformity', severity: 'warning' });
    // 15 of 150 closed: in the lowest 37.5 are 22.5 open, 0.6 over a mean of 0.9.
    expect(told!.message).toContain('With 10 % of the emitters closed');
    expect(told!.message).toContain('all alike would have 67 %');
  });
});

describe('flushing within the flow range of the control set', () => {
  // Emitters of 8 rows take 4 gpm; each open end takes several gpm more.
  const plan = rows(8, { flush: true, control: large });
  const overdrawn = (open: readonly string[], p = plan) => {
    const network = networkFor(p, { kind: 'flushing', open });
    return overdrawnIn(p, network, solve(network.network));
  };
  test('no group of several ends draws more than the regulator takes, and one end more would', () => {
    const groups = flushGroups(plan);
    expect(groups.flat()).toEqual([...plan.flushEnds].map(({ id }) => id));
    expect(groups.length).toBeGreaterThan(1);
    for (const group of groups) if (group.length > 1) expect(overdrawn(group)).toEqual([]);
    groups.slice(0, -1).forEach((group, g) => {
      const more = overdrawn([...group, groups[g + 1]![0]!]);
      expect(more.map(({ part, mostLph }) => [part, mostLph])).toContainEqual([
        'regulator',
        regulatorById('window-0.5-15')!.maxFlowLph,
      ]);
    });
    const told = of(plan, 'Flushing').find(({ rule }) => rule === 'flush-in-groups')!;
    expect(told.message).toContain(`${groups.length} groups`);
    expect(told.message).toContain('draw more than a control set takes');
  });
  test('an end that exceeds it alone has a group of its own, and the way out is told', () => {
    const small = rows(2, { flush: true });
    expect(flushGroups(small)).toEqual([['F0'], ['F1']]);
    expect(overdrawn(['F0'], small).map(({ part }) => part)).toEqual(['regulator', 'filter']);
    const told = of(small, 'Flushing').find(({ rule }) => rule === 'flush-regulator-flow-high')!;
    expect(told.severity).toBe('warning');
    expect(told.message).toContain('open each only in part, or flush before the regulator is fitted');
    expect(told.message).toContain('ends at 8.00 gpm');
    expect(rulesOf(small, 'Flushing')).toContain('flush-filter-flow-high');
  });
  test('fast tubing is a remark; outlets below their range are none of flushing', () => {
    const fast = of(plan, 'Flushing').find(({ rule }) => rule === 'flush-velocity-high')!;
    expect(fast.severity).toBe('info');
    expect(rulesOf(plan, 'Flushing').filter((rule) => !rule.startsWith('flush-'))).toEqual([]);
  });
  test('a regulator that the emitters alone overdraw splits no groups', () => {
    const crowded = rows(26, {
      flush: true,
      water: { workingPoints: [{ pressureKpa: 50 * PSI, flowLph: 2500 }] },
    });
    expect(rulesOf(crowded, 'Running')).toContain('regulator-flow-high');
    expect(rulesOf(crowded, 'Flushing')).not.toContain('flush-regulator-flow-high');
  });
});

describe('after shut-off', () => {
  const slope = (fallM: number): Level[] => [
    level('a', 0, 0, 0),
    level('b', 15, 0, -fallM),
    level('c', 0, 9, 0),
    level('d', 15, 9, -fallM),
  ];
  test('a line that drains more than a gallon over more than a foot of fall is told, a shorter one not', () => {
    // 15 m of 14.2 mm bore hold 2.4 L, under a gallon.
    expect(of(rows(1, { levels: slope(1) }), 'After shut-off')).toEqual([]);
    const long = planOf({
      levels: [level('a', 0, 0, 0), level('b', 60, 0, -3), level('c', 0, 9, 0), level('d', 60, 9, -3)],
      supplies: [supply('V', [0, 0])],
      controls: [control('C', [0, 0])],
      runs: [
        dripline('L', [
          [0, 0],
          [60, 0],
        ]),
      ],
    });
    const [told, ...others] = of(long, 'After shut-off');
    expect(others).toEqual([]);
    expect(told).toMatchObject({ rule: 'drain-down', severity: 'warning' });
    expect(told!.message).toMatch(/^After shut-off: 2\.\d gal behind control set "C" drain at .* of run "L"/);
  });
  test('on level ground nothing drains', () => {
    expect(of(rows(4), 'After shut-off')).toEqual([]);
    expect(of(rows(1, { levels: slope(0) }), 'After shut-off')).toEqual([]);
  });
});
