import { describe, expect, test } from 'vitest';
import { Table } from '../../../base/table.ts';
import { emptyPlan } from '../../../plan/empty.ts';
import type { Plan } from '../../../plan/records.ts';
import { lateral, level } from '../../plan-for-tests.ts';
import { verdictOf } from './index.ts';
import {
  calmPlan,
  FT,
  GPM,
  head,
  KPA_PER_PSI,
  only,
  plant,
  reasonsOf,
  valve,
} from './plan-for-verdict-tests.ts';

describe('shared valve', () => {
  test('a head of the lawn blocks, and the ways out are named', () => {
    const heads = Table.of([head('1', [3, 5], { blocked: true }), head('2', [7, 5], { waters: 'lawn' })]);
    const reason = only(calmPlan({ heads }), 'shared-valve');
    expect(reason).toMatchObject({ blocks: true, speaks: 'against', value: 1, limit: 0 });
    expect(reason.waysOut).toHaveLength(4);
    expect(reason.waysOut.join(' ')).toMatch(/another valve.*valve of its own.*lawn/);
    expect(reason.refs).toEqual([{ table: 'heads', id: '2' }]);
    const verdict = verdictOf(calmPlan({ heads }), 'us');
    expect(verdict.outcome).toBe('split');
    expect(verdict.reasons[0]!.rule).toBe('shared-valve');
  });

  test('a head that is kept blocks too', () => {
    const heads = Table.of([head('1', [3, 5]), head('2', [7, 5], { fate: 'keep' })]);
    expect(only(calmPlan({ heads }), 'shared-valve').waysOut).toHaveLength(3);
  });

  test('a valve that waters lawn alone has nothing to convert', () => {
    const heads = Table.of([head('1', [3, 5], { waters: 'lawn', blocked: true })]);
    expect(only(calmPlan({ heads }), 'nothing-to-convert').blocks).toBe(false);
    expect(verdictOf(calmPlan({ heads }), 'us').outcome).toBe('leave');
    // Its overspray and the narrow bed next to it are no reasons for drip.
    expect(verdictOf(calmPlan({ heads }), 'us').reasons).toHaveLength(1);
  });
});

describe('mixed water use', () => {
  const with2 = (one: 'high' | 'moderate' | 'low' | 'very low', two: typeof one | null) =>
    calmPlan({
      plants: Table.of([plant('a', [1, 1], { waterUse: one }), plant('b', [9, 9], { waterUse: two })]),
    });

  test.each([
    ['high', 'low', true],
    ['very low', 'high', true],
    ['high', 'moderate', false],
    ['moderate', 'very low', false],
  ] as const)('%s with %s: blocks %s', (one, two, blocks) => {
    const reason = only(with2(one, two), 'mixed-water-use');
    expect(reason.blocks).toBe(blocks);
    expect(reason.waysOut.length).toBeGreaterThan(0);
    expect(verdictOf(with2(one, two), 'us').outcome).toBe(blocks ? 'split' : 'leave');
  });

  test('kinds of the plant list count as far as they are not placed', () => {
    const kind = {
      name: 'B',
      plantClass: 'shrub',
      canopyNowM: null,
      canopyMatureM: 0.5,
      rootBallM: null,
      waterUse: 'high',
      count: 3,
    } as const;
    const reason = only({ ...with2('low', 'low'), planting: { kinds: [kind] } }, 'mixed-water-use');
    expect(reason.message).toContain('3 high, 2 low');
    expect(reason.blocks).toBe(true);
    expect(
      reasonsOf(
        { ...with2('low', 'low'), planting: { kinds: [{ ...kind, count: null }] } },
        'mixed-water-use',
      ),
    ).toEqual([]);
  });

  test('alike is in order, unknown is missing', () => {
    expect(reasonsOf(with2('low', 'low'), 'mixed-water-use')).toEqual([]);
    expect(verdictOf(with2('low', null), 'us').missing.join(' ')).toContain('Water-use class');
  });
});

describe('flow of the valve', () => {
  // Two shrubs far apart: 2 x 2 x 1 gph = 0.067 gpm; dripline on 100 m2: 4.8 gpm.
  test.each([
    [0.05, 0],
    [1, 1],
    [6, 1],
  ])('a valve that needs %f gpm', (minGpm, count) => {
    const plan = calmPlan({ supplies: Table.of([valve({ minFlowLph: minGpm * GPM })]) });
    const found = reasonsOf(plan, 'valve-minimum');
    expect(found).toHaveLength(count);
    for (const reason of found) {
      expect(reason).toMatchObject({ speaks: 'condition', blocks: false, unit: 'L/h', limit: minGpm * GPM });
      expect(reason.waysOut.join(' ')).toMatch(/low flow.*two beds.*Raise the flow/);
      expect(reason.message.includes('it depends')).toBe(minGpm === 1);
    }
  });

  test('a valve that lets through less than the drip takes, or whose limits are not known', () => {
    expect(
      only(calmPlan({ supplies: Table.of([valve({ maxFlowLph: 2 * GPM })]) }), 'valve-minimum').limit,
    ).toBe(2 * GPM);
    const unknown = calmPlan({ supplies: Table.of([valve({ minFlowLph: null })]) });
    expect(verdictOf(unknown, 'us').missing.join(' ')).toContain('least flow');
    expect(verdictOf(calmPlan({ supplies: Table.of() }), 'us').missing.join(' ')).toContain(
      'The valve of the zone',
    );
  });
});

describe('pressure', () => {
  const at = (psi: number, workingPoints: Plan['water']['workingPoints'] = []) =>
    calmPlan({
      supplies: Table.of([valve({ pressureKpa: psi * KPA_PER_PSI })]),
      water: { ...emptyPlan().water, workingPoints },
      // Without pipe it is the pressure at the valve.
      laterals: Table.of(),
      heads: Table.of([head('1', [3, 5], { blocked: true })]),
    });

  test.each([
    [14, 'leave', true],
    [17, 'convert', false],
    [20, 'convert', null],
  ] as const)('%d psi at the filter: %s', (psi, outcome, blocks) => {
    const found = reasonsOf(at(psi), 'pressure-budget');
    expect(found.map((reason) => reason.blocks)).toEqual(blocks === null ? [] : [blocks]);
    expect(verdictOf(at(psi), 'us').outcome).toBe(outcome);
    for (const reason of found) expect(reason.waysOut.length).toBeGreaterThan(0);
  });

  test('at the flow of the drip, by the working points: 30 psi less 20 psi at that flow', () => {
    // The drip takes 4.8 gpm at most; at that flow 20 psi are lost.
    const flowLph = (100 / (1.5 * FT) ** 2) * 0.6 * (GPM / 60);
    const reason = only(at(30, [{ pressureKpa: 10 * KPA_PER_PSI, flowLph }]), 'pressure-budget');
    expect(reason.value! / KPA_PER_PSI).toBeCloseTo(10, 1);
    expect(reason.blocks).toBe(true);
  });

  test('at the best tie-in of the old pipe: less its friction and the lift', () => {
    const laterals = Table.of([
      lateral('V', '1', [0, 0], [3, 5], { size: '2' }),
      lateral('1', '2', [3, 5], [7, 5], { size: '2' }),
    ]);
    // 0.9 m of rise for each metre north: 4.5 m up at the heads, 6.4 psi.
    const levels = Table.of([level('1', 0, 0, 0), level('2', 10, 0, 0), level('3', 0, 10, 9)]);
    const reason = only({ ...at(20), laterals, levels }, 'pressure-budget');
    expect(reason.message).toMatch(/at the tie-in/);
    expect(reason.value! / KPA_PER_PSI).toBeLessThan(20 - 6.4);
    expect(reason.value! / KPA_PER_PSI).toBeGreaterThan(20 - 6.4 - 0.3);
    expect(reason.blocks).toBe(true);
  });

  test('the lowest static pressure counts where it was read', () => {
    const water = { ...emptyPlan().water, staticKpa: 60 * KPA_PER_PSI, lowStaticKpa: 12 * KPA_PER_PSI };
    const plan = calmPlan({ supplies: Table.of([valve({ pressureKpa: null })]), water });
    expect(only(plan, 'pressure-budget').message).toContain('lowest static');
  });

  test('without a static pressure it is missing', () => {
    const plan = calmPlan({ supplies: Table.of([valve({ pressureKpa: null })]) });
    expect(reasonsOf(plan, 'pressure-budget')).toEqual([]);
    expect(verdictOf(plan, 'us').missing.join(' ')).toContain('Static pressure');
  });

  test('too little pressure goes before a shared valve: no splitting brings pressure', () => {
    const plan = { ...at(10), heads: Table.of([head('1', [3, 5]), head('2', [7, 5], { waters: 'lawn' })]) };
    expect(verdictOf(plan, 'us').outcome).toBe('leave');
    expect(verdictOf(plan, 'us').reasons.filter(({ blocks }) => blocks)).toHaveLength(2);
  });
});
