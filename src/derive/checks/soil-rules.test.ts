import { describe, expect, test } from 'vitest';
import { Table } from '../../base/table.ts';
import type { Plan, Soil, Watering } from '../../plan/records.ts';
import type { Point } from '../../base/point.ts';
import { blank, control, dripline, planOf, supply } from '../plan-for-tests.ts';
import { findings, fixed, limited } from './findings-for-tests.ts';
import { areaOf, every, fillOf, grid, IN, plantOf } from './site-for-tests.ts';

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
  test('a little wider than the spread is silent, up to the tolerance of the plan', () => {
    expect(findings(site('loam', 19.8, 18), rule)).toEqual([]);
    expect(findings(site('loam', 21, 18), rule)).toHaveLength(1);
    const limits = (over: number) => limited(site('loam', 19.8, 18), { 'spacing-over-spread.over': over });
    expect(findings(limits(5), rule)).toHaveLength(1);
    expect(findings(limits(12), rule)).toEqual([]);
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

describe('29: what lies farther apart, and what more emitters ask for', () => {
  const rule = 'spacing-over-spread';
  test('rows of one bed up to 2 m apart; those of two beds are not held together', () => {
    const apart = soiled(grid([0.1, 1.2, 2.3, 3.4], { spacingM: 0.3 }), { texture: 'sand' });
    expect(findings(apart, rule)[0]!.message).toContain('4 rows');
    const two: Plan = {
      ...soiled(grid([0.1, 1.8], { spacingM: 0.3 }), { texture: 'sand' }),
      areas: Table.of([areaOf('B', 'bed', 0, 0, 12, 0.5), areaOf('B2', 'bed', 0, 1.5, 12, 2)]),
    };
    expect(findings(two, rule)).toEqual([]);
    expect(findings({ ...two, areas: Table.of([areaOf('B', 'bed', 0, 0, 12, 6)]) }, rule)).toHaveLength(1);
  });
  test('limits from a file that lead nowhere are held within their range', () => {
    for (const mad of [0, -1, NaN, -Infinity]) {
      const plan: Plan = {
        ...soiled(grid(every(0.5), { spacingM: 0.5 }), { texture: 'sand' }),
        fills: Table.of([fillOf(['R0', 'R1'])]),
      };
      const choices = fixed(limited(plan, { 'spacing-over-spread.sand': mad }), rule).fills.get('F')!.choices;
      expect(choices.emitterSpacingM, String(mad)).toBeGreaterThanOrEqual(0.05);
    }
  });
  test('the fix takes a larger regulator along, or is left out where there is none', () => {
    const ids = every(24 * IN).map((_, k) => `R${k}`);
    const plan = (regulator: string, most?: number): Plan => {
      const base = soiled(grid(every(24 * IN), { spacingM: 18 * IN }), { texture: 'sand' });
      return limited(
        {
          ...base,
          controls: Table.of([{ ...base.controls.get('C')!, regulator }]),
          fills: Table.of([fillOf(ids, { rowSpacingM: 24 * IN, emitterSpacingM: 18 * IN })]),
        },
        most === undefined ? {} : { 'spacing-over-spread.sand': most },
      );
    };
    // 260 emitters of 2.3 L/h give 600 L/h; at 12 by 12 in they give three times as much, at 10 by 10 in 11 gpm.
    expect(fixed(plan('window-0.1-8'), rule).controls.get('C')!.regulator).toBe('window-0.1-8');
    expect(fixed(plan('window-0.1-8', 10 * IN), rule).controls.get('C')!.regulator).not.toBe('window-0.1-8');
    expect(fixed(plan('window-2-20', 10 * IN), rule).controls.get('C')!.regulator).toBe('window-2-20');
    const dense = findings(plan('window-0.1-8', 0.05), rule)[0]!;
    expect(dense.fix).toBeUndefined();
    expect(dense.message).toContain('divide the zone first');
  });
});

describe('loops are rows too', () => {
  /** Rings along the edge of a bed, fed at one corner. */
  const rings = (edges: readonly number[], more: Partial<Plan> = {}): Plan => {
    const ring = (k: number, e: number) =>
      dripline(
        `L${k}`,
        [
          [e, e],
          [8 - e, e],
          [8 - e, 1.2 - e],
          [e, 1.2 - e],
          [e, e],
        ],
        { law: 'inline-pc', ratedFlowLph: 3.4, spacingM: 18 * IN },
      );
    const plan = planOf({
      supplies: [supply('V', [0.02, 0.02])],
      controls: [control('C', [0.02, 0.02])],
      runs: [
        blank('H', [0.02, 0.02], ...edges.map((e) => [e, e] as const)),
        ...edges.map((e, k) => ring(k, e)),
      ],
    });
    return { ...plan, areas: Table.of([areaOf('B', 'bed', 0, 0, 8, 1.2)]), ...more };
  };
  test('28: rate over intake', () => {
    const wet = soiled(rings([0.1, 0.4]), { texture: 'clay', intakeMmPerH: 2 });
    const watering = { minutesPerStart: 600, startsPerDay: 1, intervalDays: 3 };
    const plan: Plan = { ...wet, supplies: Table.of([{ ...wet.supplies.get('V')!, watering }]) };
    expect(findings(plan, 'drip-rate-over-intake')[0]!.severity).toBe('error');
  });
  test('29: wide rings in sand', () => {
    expect(findings(soiled(rings([0.1]), { texture: 'sand' }), 'spacing-over-spread')).toHaveLength(1);
    expect(findings(soiled(rings([0.1]), { texture: 'sand' }), 'spacing-over-spread')[0]!.message).toContain(
      '1 row up to',
    );
  });
  test('30: too near to paving and too far off', () => {
    const paved = (edgeM: number): Plan => {
      const plan = rings([edgeM]);
      return { ...plan, areas: Table.of([...plan.areas, areaOf('W', 'paving', 0, -1, 8, 0)]) };
    };
    expect(findings(paved(0.02), 'first-row-near')).toHaveLength(1);
    expect(findings(paved(0.35), 'first-row-far')).toHaveLength(1);
    expect(findings(paved(0.1), 'first-row-near')).toEqual([]);
    expect(findings(paved(0.1), 'first-row-far')).toEqual([]);
  });
  test('24: a long loop runs up and down; a round one in no direction', () => {
    const loop = (wide: number, high: number): Plan => ({
      ...grid([0.1], { percent: 20 }),
      runs: Table.of([
        dripline('L', [
          [1, 0],
          [1 + wide, 0],
          [1 + wide, high],
          [1, high],
          [1, 0],
        ]),
      ]),
    });
    expect(findings(loop(0.3, 10), 'rows-up-and-down')).toHaveLength(1);
    expect(findings(loop(10, 0.3), 'rows-up-and-down')).toEqual([]);
    expect(findings(loop(2, 2.2), 'rows-up-and-down')).toEqual([]);
  });
  test('a ring drawn round a plant is no row', () => {
    const plan = soiled(rings([0.1]), { texture: 'sand' });
    const circle = Array.from({ length: 13 }, (_, k): Point => {
      const angle = (k % 12) * (Math.PI / 6);
      return [4 + 0.5 * Math.cos(angle), 0.6 + 0.5 * Math.sin(angle)];
    });
    const ring = (plants: readonly Point[]): Plan => ({
      ...plan,
      runs: Table.of([dripline('O', circle, { spacingM: 0.3 })]),
      plants: Table.of(plants.map((at, k) => plantOf(`P${k}`, at))),
    });
    expect(findings(ring([[4, 0.6]]), 'spacing-over-spread')).toEqual([]);
    expect(findings(ring([]), 'spacing-over-spread')).toHaveLength(1);
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
