import { describe, expect, test } from 'vitest';
import type { Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import { GPM_LPH, PSI_KPA } from '../../base/units.ts';
import type { Area, Fill, FittingFamily, Head, Plan, Plant } from '../../plan/records.ts';
import { blank, control, dripline, emitter, level, planOf, PSI, supply } from '../plan-for-tests.ts';
import { findings, fixed, limited } from './findings-for-tests.ts';
import { fillOf } from './site-for-tests.ts';

const row: Point[] = [
  [0, 0],
  [9, 0],
];
const zone = (setPsi: number, law = 'inline-pc', supplyPsi = 60): Plan =>
  planOf({
    supplies: [supply('V', [0, 0], { pressureKpa: supplyPsi * PSI })],
    controls: [control('C', [0, 0], { setKpa: setPsi * PSI_KPA })],
    runs: [dripline('R', row, { law })],
  });

describe('1: spray heads on the drip valve', () => {
  const head: Head = {
    id: 'H',
    at: [0, 3],
    flowLph: null,
    pressureKpa: null,
    pattern: null,
    body: null,
    thread: null,
    blocked: null,
    waters: 'bed',
    fate: 'keep',
    zone: 'A',
    note: '',
  };
  const site = (more: Partial<Head>): Plan => ({
    ...zone(25),
    supplies: Table.of([supply('V', [0, 0], { zone: 'A' })]),
    heads: Table.of([{ ...head, ...more }]),
  });
  test('one that is kept is an error, on another valve none; the fix caps it', () => {
    expect(findings(site({}), 'spray-heads-kept')[0]!.severity).toBe('error');
    expect(findings(site({ zone: 'B' }), 'spray-heads-kept')).toEqual([]);
    const after = fixed(site({}), 'spray-heads-kept');
    expect(after.heads.get('H')!.fate).toBe('cap');
    expect(findings(after, 'spray-heads-kept')).toEqual([]);
  });
});

describe('2: rates on one valve', () => {
  const bed = (id: string, y: number): Area => ({
    id,
    use: 'bed',
    name: '',
    outline: [
      [0, y],
      [10, y],
      [10, y + 2],
      [0, y + 2],
    ],
    holes: [],
  });
  /** Two beds of 10 by 2 m with four rows each, 0.5 m apart. */
  const beds = (flows: readonly [number, number], supplies: readonly [string, string] = ['V', 'V']): Plan => {
    const rows = (y: number, flow: number, b: number) =>
      [0.25, 0.75, 1.25, 1.75].map((up, k) =>
        dripline(
          `R${b}${k}`,
          [
            [0, y + up],
            [10, y + up],
          ],
          { ratedFlowLph: flow, law: 'inline-pc' },
        ),
      );
    const header = (id: string, y: number, to: number) => blank(id, [0, y], [0, to]);
    const isOne = supplies[0] === supplies[1];
    return {
      ...planOf({
        supplies: isOne ? [supply('V', [0, 0])] : [supply('V', [0, 0]), supply('W', [0, 5])],
        controls: isOne ? [control('C', [0, 0])] : [control('C', [0, 0]), control('D', [0, 5])],
        runs: [
          ...(isOne ? [header('H', 0, 7)] : [header('H', 0, 2), header('I', 5, 7)]),
          ...rows(0, flows[0], 0),
          ...rows(5, flows[1], 1),
        ],
      }),
      areas: Table.of([bed('B1', 0), bed('B2', 5)]),
    };
  };
  test('of beds: over 1.25 a warning, over 2 an error, as drawn by hand', () => {
    expect(findings(beds([2, 2.4]), 'rates-mixed')).toEqual([]);
    const told = findings(beds([2, 2.6]), 'rates-mixed')[0]!;
    expect(told).toMatchObject({ severity: 'warning', message: expect.stringContaining('1.30 to 1') });
    expect(told.refs.map(({ id }) => id)).toEqual(['B1', 'B2']);
    // 132 emitters of 2 L/h on 20 m2 are 13.2 mm/h.
    expect(told.message).toContain('0.52 in/h');
    expect(findings(beds([2, 4.1]), 'rates-mixed')[0]!.severity).toBe('error');
    expect(findings(limited(beds([2, 2.6]), { 'rates-mixed.warning': 140 }), 'rates-mixed')).toEqual([]);
  });
  test('what was chosen counts only as long as the rows follow it', () => {
    const plan = beds([2, 2.6]);
    const filled = (byHand: boolean): Plan => ({
      ...plan,
      fills: Table.of(
        ['0', '1'].map((b) => ({
          ...fillOf(
            ['0', '1', '2', '3'].map((k) => `R${b}${k}`),
            { ratedFlowLph: 2, rowSpacingM: 0.5, emitterSpacingM: 0.3 },
            byHand,
          ),
          id: `F${b}`,
          areaId: b === '0' ? 'B1' : 'B2',
        })) as Fill[],
      ),
    });
    expect(findings(filled(false), 'rates-mixed')).toEqual([]);
    expect(findings(filled(true), 'rates-mixed')[0]!.message).toContain('1.30 to 1');
  });
  test('on valves of their own beds may differ', () => {
    expect(findings(beds([2, 6], ['V', 'W']), 'rates-mixed')).toEqual([]);
  });
  test('single lines through a bed are for plants, not for the bed', () => {
    const plan = beds([2, 6]);
    expect(findings({ ...plan, runs: plan.runs.without(['R11', 'R12', 'R13']) }, 'rates-mixed')).toEqual([]);
  });
  test('rings are for their tree, not for the bed in which it stands', () => {
    const plan = beds([2, 2.6]);
    const rings = (runIds: readonly string[]): Plan => ({
      ...plan,
      fills: Table.of([
        {
          id: 'F',
          kind: 'tree',
          plantId: 'T',
          byHand: false,
          runIds,
          choices: {
            form: 'rings',
            canopy: 'now',
            ringSpacingM: null,
            trunkClearM: 0.3,
            emitterSpacingM: 0.3,
            ratedFlowLph: 2.6,
            law: 'inline-pc',
            tubing: 'inline-17',
            headerTubing: 'blank-17',
          },
        },
      ]),
    });
    expect(findings(rings(['R10', 'R11', 'R12', 'R13']), 'rates-mixed')).toEqual([]);
    expect(findings(rings([]), 'rates-mixed')).toHaveLength(1);
  });
  const shrub = (id: string, x: number, more: Partial<Plant> = {}): Plant => ({
    id,
    at: [x, 1],
    name: id,
    plantClass: 'shrub',
    canopyNowM: null,
    canopyMatureM: 1,
    rootBallM: null,
    waterUse: 'low',
    ...more,
  });
  /** Shrub A with one emitter of 2 L/h, B with one of `lph`. */
  const shrubs = (lph: number, more: Partial<Plant> = {}): Plan => ({
    ...planOf({
      supplies: [supply('V', [0, 0])],
      controls: [control('C', [0, 0])],
      runs: [blank('H', [0, 0], [9, 0])],
      emitters: [
        emitter('E1', 'H', [2, 0], { plantId: 'A', ratedFlowLph: 2, law: 'point-pc' }),
        emitter('E2', 'H', [6, 0], { plantId: 'B', ratedFlowLph: lph, law: 'point-pc' }),
      ],
    }),
    plants: Table.of([shrub('A', 2), shrub('B', 6, more)]),
  });
  test('of like plants, per canopy area; class, water use or size are reasons for another flow', () => {
    expect(findings(shrubs(2.4), 'rates-mixed')).toEqual([]);
    expect(findings(shrubs(3), 'rates-mixed')[0]!).toMatchObject({ severity: 'warning' });
    expect(findings(shrubs(5), 'rates-mixed')[0]!).toMatchObject({
      severity: 'error',
      refs: [
        { table: 'plants', id: 'A' },
        { table: 'plants', id: 'B' },
      ],
    });
    for (const more of [
      { plantClass: 'tree' },
      { waterUse: 'moderate' },
      { waterUse: null },
      { canopyMatureM: 2 },
    ] as const) {
      expect(findings(shrubs(5, more), 'rates-mixed')).toEqual([]);
    }
  });
  test('what an emitter gives to two plants is shared between them', () => {
    const plan = shrubs(2);
    const both = emitter('E3', 'H', [4, 0], {
      plantId: 'A',
      alsoPlantIds: ['B'],
      ratedFlowLph: 8,
      law: 'point-pc',
    });
    expect(findings({ ...plan, emitters: plan.emitters.with(both) }, 'rates-mixed')).toEqual([]);
    const alone = { ...both, alsoPlantIds: [] };
    expect(findings({ ...plan, emitters: plan.emitters.with(alone) }, 'rates-mixed')).toHaveLength(1);
  });
});

describe('3: least pressure', () => {
  test('compensating dripline is to have 10 psi, more than where its range begins', () => {
    expect(findings(zone(15), 'outlet-pressure-low')).toEqual([]);
    const told = findings(zone(9), 'outlet-pressure-low')[0]!;
    expect(told).toMatchObject({ severity: 'warning', message: expect.stringContaining('needs 10.0 psi') });
    expect(told.message).toContain('nothing to spare');
    expect(findings(limited(zone(9), { 'outlet-pressure-low.dripline': 50 }), 'outlet-pressure-low')).toEqual(
      [],
    );
    expect(findings(zone(4), 'outlet-pressure-low')[0]!.severity).toBe('error');
  });
  test('a limit below the range of the emitter does not widen that', () => {
    expect(
      findings(limited(zone(5), { 'outlet-pressure-low.dripline': 0 }), 'outlet-pressure-low'),
    ).toHaveLength(1);
  });
  test('the fix raises the setting, where the supply can hold it', () => {
    const after = fixed(zone(9), 'outlet-pressure-low');
    // From 9 psi the next settings are 10 and 15; at 10 the far end of the row has a little less.
    expect(after.controls.get('C')!.setKpa).toBeCloseTo(15 * PSI_KPA, 6);
    expect(findings(after, 'outlet-pressure-low')).toEqual([]);
    expect(findings(fixed(zone(6, 'inline-plain'), 'outlet-pressure-low'), 'outlet-pressure-low')).toEqual(
      [],
    );
    expect(findings(zone(9, 'inline-pc', 12), 'outlet-pressure-low')[0]!.fix).toBeUndefined();
  });
});

describe('4: most pressure', () => {
  test('of an emitter while it runs; the fix lowers the setting', () => {
    const plan = zone(40, 'inline-plain', 80);
    expect(findings(plan, 'outlet-pressure-high')[0]!.severity).toBe('error');
    const after = fixed(plan, 'outlet-pressure-high');
    expect(after.controls.get('C')!.setKpa).toBeCloseTo(30 * PSI_KPA, 6);
    expect(findings(after, 'outlet-pressure-high')).toEqual([]);
  });
  test('of fittings: 50 psi, 35 for barbs without clamps', () => {
    const at = (fittings: FittingFamily | null): Plan => {
      const plan = zone(40, 'inline-pc', 80);
      return { ...plan, practice: { ...plan.practice, fittings } };
    };
    // 40 psi, and 46 with the creep of the regulator.
    expect(findings(at(null), 'fitting-pressure-high')).toEqual([]);
    expect(findings(at('clamped barb'), 'static-pressure-fittings')).toEqual([]);
    const told = findings(at('barb'), 'fitting-pressure-high')[0]!;
    expect(told.message).toContain('usually hold 35.0 psi');
    expect(findings(at('barb'), 'static-pressure-fittings')[0]!.message).toContain('46.0 psi');
    const limits = { 'fitting-pressure.barb': 60 * PSI_KPA };
    expect(findings(limited(at('barb'), limits), 'static-pressure-fittings')).toEqual([]);
    const after = fixed(at('barb'), 'static-pressure-fittings');
    expect(after.controls.get('C')!.setKpa).toBeCloseTo(30 * PSI_KPA, 6);
    expect(findings(after, 'static-pressure-fittings')).toEqual([]);
    expect(findings(fixed(at('barb'), 'fitting-pressure-high'), 'fitting-pressure-high')).toEqual([]);
  });
  test('of outlets with no flow', () => {
    // 28 psi creep to 32 at no flow, and plain emitters may have 30.
    const plan = zone(28, 'inline-plain');
    expect(findings(plan, 'outlet-pressure-high')).toEqual([]);
    expect(findings(plan, 'static-pressure-outlets')[0]!.severity).toBe('error');
    expect(findings(fixed(plan, 'static-pressure-outlets'), 'static-pressure-outlets')).toEqual([]);
  });
});

describe('5: flow spread', () => {
  const slope = (riseM: number, law = 'inline-plain'): Plan => ({
    ...zone(20, law),
    levels: Table.of([level('a', 0, 0, 0), level('b', 9, 0, riseM)]),
  });
  test('of plain emitters: over 10 % a warning, over 20 % an error; compensating ones give alike', () => {
    expect(findings(slope(0.5), 'flow-spread')).toEqual([]);
    // At 20 psi (14.1 m) a rise of 3.4 m leaves the square root of 10.7 / 14.1 = 0.87 of the flow.
    const told = findings(slope(3.4), 'flow-spread')[0]!;
    expect(told.severity).toBe('warning');
    expect(Number(/by ([\d.]+) %/.exec(told.message)![1])).toBeGreaterThan(12);
    expect(told.places).toHaveLength(2);
    expect(findings(slope(6.5), 'flow-spread')[0]!.severity).toBe('error');
    expect(findings(slope(6, 'inline-pc'), 'flow-spread')).toEqual([]);
    expect(findings(limited(slope(3.4), { 'flow-spread.warning': 18 }), 'flow-spread')).toEqual([]);
  });
  test('the fix takes compensating ones with the same flow and spacing', () => {
    const base = slope(3.4);
    const plan = {
      ...base,
      runs: base.runs.with(blank('H', [0, 0], [0, 5])),
      emitters: Table.of([emitter('E', 'H', [0, 4])]),
    };
    const after = fixed(plan, 'flow-spread');
    expect(after.runs.get('R')!.inline).toEqual({ ...plan.runs.get('R')!.inline!, law: 'inline-pc' });
    expect(after.emitters.get('E')!.law).toBe('point-pc');
    expect(findings(after, 'flow-spread')).toEqual([]);
  });
});

describe('6 to 8: flow of valve and regulator, pressure before it', () => {
  test('6: below the minimum of the valve', () => {
    const valve = (minGpm: number): Plan => ({
      ...zone(25),
      supplies: Table.of([supply('V', [0, 0], { minFlowLph: minGpm * GPM_LPH })]),
    });
    // 30 emitters of 2.3 L/h are 0.30 gpm.
    expect(findings(valve(0.25), 'valve-flow-low')).toEqual([]);
    expect(findings(valve(0.5), 'valve-flow-low')[0]!).toMatchObject({
      severity: 'error',
      message: expect.stringContaining('0.30 gpm'),
    });
  });
  test('7: outside the range of the regulator; the fix takes one that fits', () => {
    const plan = {
      ...zone(25),
      controls: Table.of([control('C', [0, 0], { regulator: 'window-2-20', setKpa: 25 * PSI_KPA })]),
    };
    expect(findings(zone(25), 'regulator-flow-low')).toEqual([]);
    expect(findings(plan, 'regulator-flow-low')[0]!.severity).toBe('error');
    const after = fixed(plan, 'regulator-flow-low');
    expect(after.controls.get('C')!.regulator).toBe('window-0.1-8');
    expect(findings(after, 'regulator-flow-low')).toEqual([]);
    const odd = { ...plan, controls: Table.of([{ ...plan.controls.get('C')!, setKpa: 123 }]) };
    expect(findings(odd, 'regulator-flow-low')[0]!.fix).toBeUndefined();
  });
  test('8: the supply gives too little above the setting; the fix lowers it', () => {
    expect(findings(zone(25, 'inline-pc', 31), 'regulator-headroom')).toEqual([]);
    const plan = zone(25, 'inline-pc', 27);
    const after = fixed(plan, 'regulator-headroom');
    expect(after.controls.get('C')!.setKpa).toBeCloseTo(20 * PSI_KPA, 6);
    expect(findings(after, 'regulator-headroom')).toEqual([]);
    expect(findings(limited(plan, { 'regulator-headroom.spare': PSI_KPA }), 'regulator-headroom')).toEqual(
      [],
    );
  });
  test('8: no fix where the outlets would have too little', () => {
    const steep = {
      ...zone(25, 'inline-pc', 27),
      levels: Table.of([level('a', 0, 0, 0), level('b', 9, 0, 11)]),
    };
    expect(findings(steep, 'regulator-headroom')[0]!.fix).toBeUndefined();
  });
});
