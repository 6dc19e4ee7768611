import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Table } from '../../base/table.ts';
import { INCH_MM } from '../../base/units.ts';
import { INTAKE_TABLES, TEXTURES } from '../../catalog/index.ts';
import { emptyPlan } from '../../plan/empty.ts';
import type { Area, Soil } from '../../plan/records.ts';
import { level } from '../plan-for-tests.ts';
import { bedSlope, intakeOf, pondingOf, textureOf } from './index.ts';

const soil = (more: Partial<Soil> = {}): Soil => ({ ...emptyPlan().soil, ...more });
const jar = (sandPercent: number | null, siltPercent: number | null, clayPercent: number | null) => ({
  sandPercent,
  siltPercent,
  clayPercent,
});

describe('texture', () => {
  test('nothing known', () => {
    expect(textureOf(soil())).toEqual({
      texture: null,
      how: null,
      source: null,
      others: [],
      shares: null,
      disagreement: null,
    });
  });
  test.each([
    [{ ...jar(42, 38, 20), texture: 'loam' }, 'loam', 'jar', null],
    [{ ...jar(42, 38, 20), texture: 'Clay' }, 'loam', 'jar', /jar test says loam, noted is clay/],
    [{ ...jar(42, 38, 20), ribbonM: 0.06 }, 'loam', 'jar', /jar test says loam, the ribbon test clays/],
    [{ ...jar(42, 38, 20), ribbonM: 0.02 }, 'loam', 'jar', null],
    [jar(41, 37, 20), 'loam', 'jar', null],
    [jar(43, 39, 20), 'loam', 'jar', null],
    [{ ...jar(40, 40, 40), texture: 'clay' }, 'clay', 'typed', /add up to 120 percent/],
    [jar(40, 35, 22), null, null, /add up to 97 percent/],
    [jar(40, null, 20), 'loam', 'jar', null],
    [jar(80, null, 60), null, null, /Two shares .* 140 percent/],
    [jar(40, null, null), null, null, /One share/],
    [jar(NaN, 40, 60), null, null, /not between 0 and 100/],
    [{ ribbonM: 0 }, 'loamy sand', 'ribbon', null],
    [{ ribbonM: 0, texture: 'sand' }, 'sand', 'typed', null],
    [{ ribbonM: 0.04, texture: 'silty clay loam' }, 'silty clay loam', 'typed', null],
    [{ ribbonM: 0.04, texture: 'sand' }, 'clay loam', 'ribbon', /ribbon test says clay loams, noted is sand/],
    [{ texture: 'SCL' }, 'sandy clay loam', 'typed', null],
    [{ texture: 'gumbo' }, null, null, /“gumbo” is not one of the texture classes/],
    [{ texture: '  ' }, null, null, null],
  ] as const)('%j', (fields, texture, how, disagreement) => {
    const found = textureOf(soil(fields));
    expect(found.texture).toBe(texture);
    expect(found.how).toBe(how);
    if (disagreement) expect(found.disagreement).toMatch(disagreement);
    else expect(found.disagreement).toBeNull();
  });
  test('shares within two percent are scaled to a hundred', () => {
    const { shares } = textureOf(soil(jar(49, 29.4, 19.6)));
    expect(shares).toEqual({ sand: 50, silt: expect.closeTo(30, 9), clay: expect.closeTo(20, 9) });
  });
  test('any shares: never thrown, a class or a reason, and scaled shares that are a hundred', () => {
    const share = fc.option(fc.double({ min: -50, max: 200 }), { nil: null });
    fc.assert(
      fc.property(share, share, share, (a, b, c) => {
        const found = textureOf(soil(jar(a, b, c)));
        if (found.shares) {
          const { sand, silt, clay } = found.shares;
          expect(sand + silt + clay).toBeCloseTo(100, 9);
          expect(Math.min(sand, silt, clay)).toBeGreaterThanOrEqual(0);
          expect(found.how).toBe('jar');
        } else if (a !== null || b !== null || c !== null) expect(found.disagreement).not.toBeNull();
      }),
      { seed: 7, numRuns: 1000 },
    );
  });
});

describe('intake', () => {
  const inPerH = (...args: Parameters<typeof intakeOf>) => intakeOf(...args)!.mmPerH / INCH_MM;
  const mulched = { texture: 'silt loam', coverKind: 'mulch' } as const;

  test('nothing known gives nothing, also where only fabric was measured', () => {
    expect(intakeOf(soil(), 10)).toBeNull();
    expect(intakeOf(soil({ fabricIntakeMmPerH: 5 }), 10)).toBeNull();
  });
  test('a measured intake goes before the tables and holds on any slope', () => {
    const steep = intakeOf(soil({ ...mulched, intakeMmPerH: 10 }), 40)!;
    expect(steep).toMatchObject({ mmPerH: 10, basis: 'measured', tableId: null, limitedByFabric: false });
    expect(steep.tables.length).toBeGreaterThan(3);
    expect(steep.range.lowMmPerH).toBeLessThan(steep.range.highMmPerH);
    expect(intakeOf(soil({ intakeMmPerH: 10 }), null)!.range).toEqual({ lowMmPerH: 10, highMmPerH: 10 });
  });
  test('slopes on a limit count with the steeper class', () => {
    const at = (slope: number) => inPerH(soil(mulched), slope);
    expect([0, 4.9, 5, 7.9, 8, 11.9, 12, 90].map(at).map((rate) => +rate.toFixed(9))).toEqual([
      1, 1, 0.8, 0.8, 0.6, 0.6, 0.4, 0.4,
    ]);
    expect(at(-6)).toBeCloseTo(0.8, 9);
    expect(at(5 - 1e-12)).toBeCloseTo(0.8, 9);
  });
  test.each([
    ['mulch', 1],
    ['netting', 1],
    ['plants', 1],
    ['bare', 0.5],
    ['gravel', 0.5],
    ['fabric', 0.5],
    [null, 0.5],
  ] as const)('cover %s', (coverKind, rate) => {
    const found = intakeOf(soil({ texture: 'silt loam', coverKind }), 0)!;
    expect(found.mmPerH / INCH_MM).toBeCloseTo(rate, 9);
    expect(found.notes.some((note) => note.includes('cover is not known'))).toBe(coverKind === null);
  });
  test('compact subsoil has its own rows, but not in heavy clay', () => {
    expect(inPerH(soil({ ...mulched, compacted: true }), 0)).toBeCloseTo(0.6, 9);
    const clay = { texture: 'clay', coverKind: 'mulch' } as const;
    expect(inPerH(soil({ ...clay, compacted: true }), 0)).toBeCloseTo(0.2, 9);
  });
  test('measured fabric is the upper limit, and only where it is the smaller', () => {
    const under = intakeOf(soil({ ...mulched, fabricIntakeMmPerH: 3 }), 0)!;
    expect(under).toMatchObject({ mmPerH: 3, limitedByFabric: true });
    expect(intakeOf(soil({ ...mulched, fabricIntakeMmPerH: 300 }), 0)).toMatchObject({
      limitedByFabric: false,
    });
    expect(intakeOf(soil({ intakeMmPerH: 9, fabricIntakeMmPerH: 3 }), 0)!.mmPerH).toBe(3);
  });
  test('the table can be chosen; one without a figure or an unknown one gives way to the usual, said so', () => {
    const by = (texture: string, table: string) => intakeOf(soil({ texture, intakeTable: table }), 0)!;
    expect(by('loam', 'fao-basic')).toMatchObject({ mmPerH: 10, tableId: 'fao-basic' });
    expect(by('loam', 'fao-basic').notes.join()).toMatch(/level ground/);
    expect(by('sand', 'colorado-fines')).toMatchObject({ tableId: 'usda-sprinkler' });
    expect(by('sand', 'colorado-fines').notes.join()).toMatch(/no figure for this soil/);
    expect(by('sand', 'no such').notes.join()).toMatch(/not known here/);
  });
  test('an unknown slope is taken as level and said', () => {
    const found = intakeOf(soil(mulched), null)!;
    expect(found.mmPerH).toBe(intakeOf(soil(mulched), 0)!.mmPerH);
    expect(found.notes.join()).toMatch(/slope is not known/);
    expect(intakeOf(soil(mulched), NaN)!.mmPerH).toBe(found.mmPerH);
  });
  test('the range holds every table, and its ends are an order of magnitude apart for clay loam', () => {
    const found = intakeOf(soil({ texture: 'clay loam' }), 0)!;
    for (const table of found.tables) {
      expect(table.lowMmPerH).toBeGreaterThanOrEqual(found.range.lowMmPerH);
      expect(table.highMmPerH).toBeLessThanOrEqual(found.range.highMmPerH);
    }
    expect(found.range.highMmPerH / found.range.lowMmPerH).toBeGreaterThan(10);
    expect(found.tables.map(({ id }) => id)).toEqual(
      INTAKE_TABLES.map(({ id }) => id).filter((id) => id !== 'stormwater'),
    );
  });
  test('every texture has an intake at every slope', () => {
    for (const { texture } of TEXTURES) {
      for (const slope of [null, 0, 5, 50])
        expect(intakeOf(soil({ texture }), slope)!.mmPerH).toBeGreaterThan(0);
    }
  });
});

describe('ponding', () => {
  const rate = 1.6 * INCH_MM;
  test('unknown texture: nothing; sand: never', () => {
    expect(pondingOf(soil(), rate)).toBeNull();
    expect(pondingOf(soil({ texture: 'sand' }), rate)!.minutes).toBeNull();
  });
  test('loam at 1.6 in/h after 2.6 minutes, sooner in wet soil and at a higher rate', () => {
    const loam = soil({ texture: 'loam' });
    const usual = pondingOf(loam, rate)!.minutes!;
    expect(usual).toBeCloseTo(2.6, 1);
    expect(pondingOf(loam, rate, 0.8)!.minutes!).toBeLessThan(usual);
    expect(pondingOf(loam, 2 * rate)!.minutes!).toBeLessThan(usual);
    expect(pondingOf(loam, rate, 1)!.minutes).toBe(0);
    expect(pondingOf(loam, 0)!.minutes).toBeNull();
    expect(pondingOf(loam, NaN)!.minutes).toBeNull();
  });
  test('with a measured intake as conductivity, worked out by hand', () => {
    const found = pondingOf(soil({ texture: 'loam', intakeMmPerH: 12.7 }), rate)!;
    // 60 K psi d / (i (i - K)): 60 x 12.7 x 88.9 x 0.217 / (40.64 x 27.94) = 12.946 minutes.
    expect(found.withMeasuredIntake!.minutes).toBeCloseTo(12.946, 3);
    expect(found.minutes!).toBeLessThan(5);
    expect(pondingOf(soil({ texture: 'loam' }), rate)!.withMeasuredIntake).toBeNull();
    const fast = pondingOf(soil({ texture: 'loam', intakeMmPerH: 50 }), rate)!;
    expect(fast.withMeasuredIntake).toEqual({ minutes: null });
  });
  test('fabric that lets through less than the rate ponds at once', () => {
    const found = pondingOf(soil({ texture: 'sand', fabricIntakeMmPerH: 5 }), rate)!;
    expect(found.minutes).toBe(0);
    expect(found.caution).toMatch(/fabric/);
    expect(pondingOf(soil({ texture: 'sand', fabricIntakeMmPerH: 500 }), rate)!.minutes).toBeNull();
  });
});

describe('slope of beds', () => {
  const bed = (id: string, outline: Area['outline'], more: Partial<Area> = {}): Area => ({
    id,
    use: 'bed',
    name: id,
    outline,
    holes: [],
    ...more,
  });
  const square = (x: number, y: number, side: number): Area['outline'] => [
    [x, y],
    [x + side, y],
    [x + side, y + side],
    [x, y + side],
  ];
  const planOf = (areas: readonly Area[], levels: Parameters<typeof level>[]) => ({
    ...emptyPlan(),
    areas: Table.of(areas),
    levels: Table.of(levels.map((fields) => level(...fields))),
  });
  /** Falls 40 percent along y for y under 10, level above. */
  const broken: Parameters<typeof level>[] = [
    ['a', -50, 10, 4],
    ['b', 50, 10, 4],
    ['c', -50, 0, 0],
    ['d', 50, 0, 0],
    ['e', -50, 40, 4],
    ['f', 50, 40, 4],
  ];

  test('one plane: exact, whatever the outline', () => {
    const tilted: Parameters<typeof level>[] = [
      ['a', 0, 0, 0],
      ['b', 20, 0, -0.1],
      ['c', 0, 10, 4],
    ];
    const plan = planOf(
      [
        bed('B', [
          [1, 1],
          [19, 2],
          [2, 9],
        ]),
      ],
      tilted,
    );
    const found = bedSlope(plan)!;
    expect(found.meanPercent).toBeCloseTo(100 * Math.hypot(0.4, 0.005), 9);
    expect(found.steepestPercent).toBeCloseTo(found.meanPercent, 9);
    expect(found.outsideShare).toBeGreaterThan(0);
    expect(found.outsideShare).toBeLessThan(1);
  });
  test('two slopes in one bed: the mean by ground, and the steepest', () => {
    const found = bedSlope(planOf([bed('B', square(-10, 0, 20))], broken))!;
    expect(found.meanPercent).toBeCloseTo(20, 0);
    expect(found.steepestPercent).toBeCloseTo(40, 6);
    expect(found.outsideShare).toBe(0);
  });
  test('several beds by their area, each on its own by its id; paving does not count', () => {
    const areas = [
      bed('steep', square(0, 0, 10)),
      bed('level', square(0, 15, 20)),
      bed('walk', square(-40, 0, 10), { use: 'paving' }),
    ];
    const plan = planOf(areas, broken);
    expect(bedSlope(plan, 'steep')!.meanPercent).toBeCloseTo(40, 6);
    expect(bedSlope(plan, 'level')!.meanPercent).toBeCloseTo(0, 6);
    expect(bedSlope(plan, 'walk')).toBeNull();
    expect(bedSlope(plan)!.meanPercent).toBeCloseTo((40 * 100) / 500, 6);
    expect(bedSlope(plan)!.steepestPercent).toBeCloseTo(40, 6);
  });
  test('a hole is left out', () => {
    const upper: Area['outline'] = [
      [-9.9, 10],
      [9.9, 10],
      [9.9, 19.9],
      [-9.9, 19.9],
    ];
    const mean = bedSlope(planOf([bed('B', square(-10, 0, 20), { holes: [upper] })], broken))!.meanPercent;
    expect(mean).toBeGreaterThan(38);
    expect(mean).toBeLessThanOrEqual(40 + 1e-9);
  });
  test('no bed, no level, or one level alone: nothing', () => {
    expect(bedSlope(planOf([], broken))).toBeNull();
    expect(bedSlope(planOf([bed('B', square(0, 0, 5))], []))).toBeNull();
    expect(bedSlope(planOf([bed('B', square(0, 0, 5))], [['a', 0, 0, 3]]))).toBeNull();
    expect(bedSlope(planOf([bed('B', square(0, 0, 5))], broken), 'none')).toBeNull();
  });
  test('a sliver of a bed is looked at too, and a long thin one ends soon', () => {
    const sliver = bed('B', [
      [0, 1],
      [1000, 1.000001],
      [1000, 1.000002],
    ]);
    expect(
      bedSlope(
        planOf(
          [sliver],
          [
            ['a', 0, 0, 0],
            ['b', 1000, 0, 0],
            ['c', 0, 200, 20],
          ],
        ),
      )!.meanPercent,
    ).toBeCloseTo(10, 6);
  });
});
