import { describe, expect, test } from 'vitest';
import { Table } from '../../../base/table.ts';
import { emptyPlan } from '../../../plan/empty.ts';
import { level } from '../../plan-for-tests.ts';
import { verdictOf } from './index.ts';
import { area, box, calmPlan, FT, GPM, head, only, plant, reasonsOf } from './plan-for-verdict-tests.ts';

describe('rate over intake', () => {
  const soil = (intakeMmPerH: number | null) => ({ ...calmPlan().soil, intakeMmPerH });

  test('flow over area against the measured intake, in the units of the person', () => {
    const plan = calmPlan({ soil: soil(2) });
    const reason = only(plan, 'rate-over-intake');
    expect(reason).toMatchObject({ speaks: 'for', blocks: false, unit: 'mm/h', limit: 2 });
    expect(reason.value).toBeCloseTo((1 * GPM) / 100, 9);
    expect(reason.message).toContain('0.09 in/h');
    expect(
      verdictOf(plan, 'metric').reasons.find(({ rule }) => rule === 'rate-over-intake')!.message,
    ).toContain('2.3 mm/h');
    expect(verdictOf(plan, 'us').outcome).toBe('convert');
  });

  test('a slope lowers the intake of a table, not a measured one', () => {
    const levels = Table.of([level('1', 0, 0, 0), level('2', 10, 0, 0), level('3', 0, 10, 4)]);
    const heads = Table.of([
      head('1', [3, 5], { flowLph: 5.5 * GPM }),
      head('2', [7, 5], { flowLph: 5.5 * GPM }),
    ]);
    // 11 gpm on 100 m2 are 25 mm/h, as much as the table has for sandy loam that lies level and bare.
    const table = { ...calmPlan().soil, texture: 'sandy loam', intakeMmPerH: null };
    const onSlope = only(calmPlan({ heads, levels, soil: table }), 'rate-over-intake');
    const measured = { ...table, intakeMmPerH: 30 };
    expect(onSlope.limit).toBeLessThan(25);
    expect(onSlope.source).toMatch(/intake/i);
    expect(reasonsOf(calmPlan({ heads, levels, soil: measured }), 'rate-over-intake')).toEqual([]);
  });

  test('of several beds each that gets too much is named', () => {
    const areas = Table.of([area('A', 'bed', box(0, 0, 10, 10)), area('B', 'bed', box(20, 0, 2, 5))]);
    const heads = Table.of([
      head('1', [5, 5]),
      head('2', [21, 2.5], { pattern: { kind: 'strip', lengthM: 5, widthM: 2, directionDeg: 90 } }),
    ]);
    const reason = only(calmPlan({ areas, heads, soil: soil(8) }), 'rate-over-intake');
    expect(reason.refs).toEqual([{ table: 'areas', id: 'B' }]);
    expect(reason.value).toBeCloseTo((0.5 * GPM) / 10, 2);
    expect(reason.message).toMatch(/^B gets/);
  });

  test('without soil, flow or bed it says what is missing', () => {
    const plan = calmPlan({
      soil: emptyPlan().soil,
      heads: Table.of([head('1', [3, 5], { flowLph: null })]),
      areas: Table.of(),
    });
    const { missing, reasons } = verdictOf(plan, 'us');
    expect(reasons.filter(({ rule }) => rule === 'rate-over-intake')).toEqual([]);
    expect(missing.join(' ')).toMatch(/jar or ribbon test/);
    expect(missing.join(' ')).toMatch(/Flow of every head/);
    expect(missing.join(' ')).toMatch(/outline of the beds/);
  });
});

describe('time to ponding', () => {
  test('clay under strong sprays ponds within a usual run, sand does not', () => {
    const heads = Table.of([
      head('1', [3, 5], { flowLph: 10 * GPM }),
      head('2', [7, 5], { flowLph: 10 * GPM }),
    ]);
    const clay = { ...emptyPlan().soil, texture: 'clay' };
    const reason = only(calmPlan({ heads, soil: clay }), 'time-to-ponding');
    expect(reason).toMatchObject({ speaks: 'for', limit: 10, unit: 'min' });
    expect(reason.value).toBeLessThan(10);
    expect(reasonsOf(calmPlan({ heads, soil: { ...clay, texture: 'sand' } }), 'time-to-ponding')).toEqual([]);
  });
});

describe('overspray', () => {
  test('more than 5 percent beside the bed, by where it falls', () => {
    const heads = Table.of([head('1', [5, 0])]);
    const reason = only(calmPlan({ heads }), 'overspray-share');
    expect(reason.value).toBeCloseTo(50, 1);
    // Of a circle of 2 m the part below y = -1, 2.457 m2 of 12.566, is on the paving.
    expect(reason.message).toMatch(/50 % .*\(20 % on paving, 30 % elsewhere\)/);
    expect(reason.speaks).toBe('for');
  });

  test('4 percent is in order', () => {
    // A circle of 2 m whose edge reaches 0.28 m over the line: 4.2 percent.
    const heads = Table.of([head('1', [5, 1.67])]);
    const { clear } = verdictOf(calmPlan({ heads }), 'us');
    const said = clear.find(({ rule }) => rule === 'overspray-share')!;
    expect(said.value).toBeGreaterThan(3.5);
    expect(said.value).toBeLessThan(5);
    expect(reasonsOf(calmPlan({ heads }), 'overspray-share')).toEqual([]);
  });

  test('heads without a pattern are named as missing, and without a bed nothing is said', () => {
    const heads = Table.of([head('1', [5, 0]), head('2', [5, 5], { pattern: null })]);
    expect(only(calmPlan({ heads }), 'overspray-share').message).toContain('1 head without a known pattern');
    expect(verdictOf(calmPlan({ heads }), 'us').missing.join(' ')).toMatch(
      /Radius, start and sweep of 1 head/,
    );
    expect(reasonsOf(calmPlan({ heads, areas: Table.of() }), 'overspray-share')).toEqual([]);
  });
});

describe('narrow beds and heads near paving', () => {
  test.each([
    [9.9, 1],
    [10, 0],
  ])('a bed %f ft wide', (widthFt, count) => {
    const areas = Table.of([
      area('B', 'bed', box(0, 0, 10, widthFt * FT)),
      area('P', 'paving', box(0, 20, 1, 1)),
    ]);
    expect(
      reasonsOf(calmPlan({ areas, heads: Table.of([head('1', [5, 1.5])]) }), 'spray-near-paving'),
    ).toHaveLength(count);
  });

  test.each([
    [0.6, 1],
    [0.62, 0],
  ])('a head %f m from the paving', (awayM, count) => {
    // The paving ends at y = -1.
    const heads = Table.of([head('1', [5, -1 + awayM])]);
    const found = reasonsOf(calmPlan({ heads }), 'spray-near-paving');
    expect(found).toHaveLength(count);
    for (const reason of found) expect(reason.refs).toEqual([{ table: 'heads', id: '1' }]);
  });
});

describe('blocked heads', () => {
  test('found blocked, and inside a shrub once it has grown', () => {
    const heads = Table.of([head('1', [3, 5], { blocked: true }), head('2', [7, 5], { blocked: null })]);
    const plants = Table.of([
      plant('a', [7.4, 5], { canopyMatureM: 1 }),
      plant('t', [3, 5], { plantClass: 'tree', canopyMatureM: 9 }),
    ]);
    const found = reasonsOf(calmPlan({ heads, plants }), 'blocked-heads');
    expect(found.map(({ refs }) => refs.map(({ id }) => id))).toEqual([['1'], ['2']]);
    expect(verdictOf(calmPlan({ heads, plants }), 'us').missing.join(' ')).toContain('block the spray');
  });
});
