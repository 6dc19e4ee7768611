import { describe, expect, test } from 'vitest';
import { Table } from '../../base/table.ts';
import type { Plan, Soil, Watering } from '../../plan/records.ts';
import { findings, fixed, limited } from './findings-for-tests.ts';
import { areaOf, every, fillOf, grid, IN } from './site-for-tests.ts';

const soiled = (plan: Plan, soil: Partial<Soil>): Plan => ({ ...plan, soil: { ...plan.soil, ...soil } });

describe('28: rate, intake and time to ponding', () => {
  const rule = 'drip-rate-over-intake';
  // 2.3 L/h every half metre, rows half a metre apart: 9.2 mm/h.
  const site = (intakeMmPerH: number, watering: Watering | null = null): Plan => {
    const plan = soiled(grid(every(0.5), { spacingM: 0.5 }), { texture: 'clay', intakeMmPerH });
    const valve = plan.supplies.get('V')!;
    return { ...plan, supplies: Table.of([{ ...valve, watering }]) };
  };
  const minutes = (minutesPerStart: number): Watering => ({
    minutesPerStart,
    startsPerDay: 1,
    intervalDays: 3,
  });
  test('a rate that the soil takes in is silent; over it the minutes are asked for', () => {
    expect(findings(site(9.2), rule)).toEqual([]);
    const told = findings(site(5), rule)[0]!;
    expect(told).toMatchObject({
      severity: 'info',
      refs: [
        { table: 'areas', id: 'B' },
        { table: 'supplies', id: 'V' },
      ],
    });
    expect(told.message).toContain('up to 0.36 in/h and the soil takes in 0.20 in/h');
  });
  test('a run past the time to ponding is an error with cycles; a shorter one is well', () => {
    // Clay, pores half full, K 2 mm/h: by Green and Ampt water stands within some hours.
    const long = findings(site(2, minutes(600)), rule)[0]!;
    expect(long.severity).toBe('error');
    const [, stands, cycles, each] =
      /after about (\d+) min of the 600 min that are set: water in (\d+) cycles of (\d+) min/
        .exec(long.message)!
        .map(Number);
    expect(cycles).toBe(Math.ceil(600 / stands!));
    expect(each!).toBeLessThanOrEqual(stands!);
    expect(findings(site(2, minutes(stands! - 2)), rule)).toEqual([]);
    expect(findings(site(2, minutes(stands! + 2)), rule)).toHaveLength(1);
  });
  test('the limit is the plan’s', () => {
    expect(findings(limited(site(5), { 'drip-rate.share': 200 }), rule)).toEqual([]);
    expect(findings(limited(site(9.2), { 'drip-rate.share': 80 }), rule)).toHaveLength(1);
  });
  test('nothing is known of the soil', () => {
    expect(findings(grid(every(0.5)), rule)).toEqual([]);
  });
});

describe('29: spacing and spread', () => {
  const rule = 'spacing-over-spread';
  const site = (texture: string, rowsIn: number, emittersIn: number): Plan =>
    soiled(grid(every(rowsIn * IN), { spacingM: emittersIn * IN }), { texture });
  test.each([
    ['sand', 12],
    ['loam', 18],
    ['clay', 24],
  ])('%s: %i in', (texture, inches) => {
    expect(findings(site(texture, inches, inches), rule)).toEqual([]);
    expect(findings(site(texture, inches * 1.25, inches), rule)[0]!.message).toMatch(/^\d+ rows up to/);
    expect(findings(site(texture, inches, inches + 1), rule)[0]!.message).toContain('emitters');
  });
  test('limits, unknown texture, the lowest third may be wider', () => {
    expect(findings(limited(site('sand', 18, 12), { 'spacing-over-spread.sand': 18 * IN }), rule)).toEqual(
      [],
    );
    expect(findings(grid(every(1)), rule)).toEqual([]);
    const wider = [0.1, 0.67, 1.24, 1.81, ...every(18 * IN, 2.3)];
    expect(findings(soiled(grid(wider, { percent: 20 }), { texture: 'loam' }), rule)).toEqual([]);
    const strict = limited(soiled(grid(wider, { percent: 20 }), { texture: 'loam' }), {
      'spacing-over-spread.lower-third': 1,
    });
    expect(findings(strict, rule)).toHaveLength(1);
  });
  test('the fix sets the fill to the soil', () => {
    const wide: Plan = {
      ...site('sand', 24, 18),
      fills: Table.of([fillOf(['R0', 'R1'], { rowSpacingM: 24 * IN, emitterSpacingM: 18 * IN })]),
    };
    const choices = fixed(wide, rule).fills.get('F')!.choices as {
      rowSpacingM: number;
      emitterSpacingM: number;
    };
    expect(choices.rowSpacingM).toBeCloseTo(12 * IN, 6);
    expect(choices.emitterSpacingM).toBeCloseTo(12 * IN, 6);
  });
});

describe('30: first row from paving', () => {
  const site = (firstM: number): Plan => {
    const plan = grid(every(0.5, firstM));
    return { ...plan, areas: Table.of([...plan.areas, areaOf('W', 'paving', 0, -1, 12, 0)]) };
  };
  test('2 to 8 in', () => {
    for (const inches of [2, 4, 8]) {
      expect(findings(site(inches * IN), 'first-row-near')).toEqual([]);
      expect(findings(site(inches * IN), 'first-row-far')).toEqual([]);
    }
    const near = findings(site(1.5 * IN), 'first-row-near')[0]!;
    expect(near.refs).toEqual([{ table: 'runs', id: 'R0' }]);
    const far = findings(site(9 * IN), 'first-row-far')[0]!;
    expect(far.refs).toEqual([{ table: 'areas', id: 'B' }]);
    expect(far.places!.length).toBeGreaterThan(5);
    expect(findings(grid(every(0.5, 9 * IN)), 'first-row-far')).toEqual([]);
  });
  test('limits', () => {
    expect(findings(limited(site(9 * IN), { 'first-row.most': 10 * IN }), 'first-row-far')).toEqual([]);
    expect(findings(limited(site(1.5 * IN), { 'first-row.least': 1 * IN }), 'first-row-near')).toEqual([]);
  });
});
