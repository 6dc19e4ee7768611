import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ringArea, ringContains } from '../../base/polygon.ts';
import { INCH_MM } from '../../base/units.ts';
import {
  GREEN_AMPT_SOILS,
  INTAKE_TABLES,
  RIBBON_CLASSES,
  ribbonClass,
  textureNamed,
  textureOfShares,
  TEXTURES,
  TRIANGLE_REGIONS,
  type IntakeGround,
  type Shares,
  type Texture,
} from './index.ts';

/** The classes as the Soil Survey Manual words them, each on its own (from memory). */
const AS_WORDED: Record<Texture, (s: Shares) => boolean> = {
  sand: ({ silt, clay }) => silt + 1.5 * clay < 15,
  'loamy sand': ({ silt, clay }) => silt + 1.5 * clay >= 15 && silt + 2 * clay < 30,
  'sandy loam': ({ sand, silt, clay }) =>
    silt + 2 * clay >= 30 && ((clay >= 7 && clay < 20 && sand > 52) || (clay < 7 && silt < 50)),
  loam: ({ sand, silt, clay }) => clay >= 7 && clay < 27 && silt >= 28 && silt < 50 && sand <= 52,
  'silt loam': ({ silt, clay }) =>
    (silt >= 50 && clay >= 12 && clay < 27) || (silt >= 50 && silt < 80 && clay < 12),
  silt: ({ silt, clay }) => silt >= 80 && clay < 12,
  'sandy clay loam': ({ sand, silt, clay }) => clay >= 20 && clay < 35 && silt < 28 && sand > 45,
  'clay loam': ({ sand, clay }) => clay >= 27 && clay < 40 && sand > 20 && sand <= 45,
  'silty clay loam': ({ sand, clay }) => clay >= 27 && clay < 40 && sand <= 20,
  'sandy clay': ({ sand, clay }) => clay >= 35 && sand > 45,
  'silty clay': ({ silt, clay }) => clay >= 40 && silt >= 40,
  clay: ({ sand, silt, clay }) => clay >= 40 && sand <= 45 && silt < 40,
};

const worded = (shares: Shares) =>
  TEXTURES.map(({ texture }) => texture).filter((texture) => AS_WORDED[texture](shares));

describe('texture triangle', () => {
  test('every whole percent has exactly one class, and it is the one given', () => {
    let points = 0;
    for (let sand = 0; sand <= 100; sand++) {
      for (let clay = 0; clay + sand <= 100; clay++) {
        const shares = { sand, clay, silt: 100 - sand - clay };
        expect(worded(shares), JSON.stringify(shares)).toEqual([textureOfShares(shares)]);
        points += 1;
      }
    }
    expect(points).toBe(5151);
  });

  test('so has every quarter of a percent, and the drawn triangle agrees', () => {
    const quarter = fc.integer({ min: 0, max: 400 });
    fc.assert(
      fc.property(quarter, quarter, (a, b) => {
        const [low, high] = a < b ? [a, b] : [b, a];
        const shares = { sand: low / 4, silt: (high - low) / 4, clay: (400 - high) / 4 };
        const texture = textureOfShares(shares);
        expect(worded(shares)).toEqual([texture]);
        const drawn = TRIANGLE_REGIONS.filter(({ corners }) =>
          ringContains(corners, [shares.sand, shares.clay]),
        );
        expect(drawn.map((region) => region.texture)).toContain(texture);
      }),
      { seed: 1902, numRuns: 3000 },
    );
  });

  test('the drawn classes fill the triangle without a gap or an overlap', () => {
    const areas = TRIANGLE_REGIONS.map(({ corners }) => Math.abs(ringArea(corners)));
    expect(areas.reduce((sum, area) => sum + area, 0)).toBeCloseTo(5000, 9);
    expect(new Set(TRIANGLE_REGIONS.map(({ texture }) => texture)).size).toBe(12);
    for (const { corners, texture } of TRIANGLE_REGIONS) {
      // No corner of another class lies inside: with the right sum that leaves no overlap.
      const mid = corners.reduce(
        ([x, y], [a, b]) => [x + a / corners.length, y + b / corners.length],
        [0, 0],
      );
      const [sand, clay] = mid as [number, number];
      if (ringContains(corners, [sand, clay])) {
        expect(textureOfShares({ sand, clay, silt: 100 - sand - clay })).toBe(texture);
      }
    }
  });

  test.each([
    [42, 38, 20, 'loam'],
    [62, 25, 13, 'sandy loam'],
    [33, 33, 34, 'clay loam'],
    [100, 0, 0, 'sand'],
    [0, 100, 0, 'silt'],
    [0, 0, 100, 'clay'],
    [82, 12, 6, 'loamy sand'],
    [60, 10, 30, 'sandy clay loam'],
    [10, 57, 33, 'silty clay loam'],
    [52, 6, 42, 'sandy clay'],
    [7, 48, 45, 'silty clay'],
    [20, 65, 15, 'silt loam'],
    [40, 40, 20, 'loam'],
    [52, 41, 7, 'loam'],
    [53, 40, 7, 'sandy loam'],
    [20, 40, 40, 'silty clay'],
    [45, 15, 40, 'clay'],
    [46, 14, 40, 'sandy clay'],
  ] as const)('%i sand, %i silt, %i clay is %s', (sand, silt, clay, texture) => {
    expect(textureOfShares({ sand, silt, clay })).toBe(texture);
  });
});

describe('typed textures', () => {
  test('every class is read back from its name and its abbreviation', () => {
    for (const { texture, code } of TEXTURES) {
      expect(textureNamed(texture)).toBe(texture);
      expect(textureNamed(code)).toBe(texture);
      expect(textureNamed(texture.toUpperCase().replaceAll(' ', '-'))).toBe(texture);
      expect(textureNamed(texture.replaceAll(' ', ''))).toBe(texture);
    }
  });
  test.each([
    ['SCL', 'sandy clay loam'],
    ['silt-loam', 'silt loam'],
    ['Silty loam', 'silt loam'],
    ['fine sandy loam', 'sandy loam'],
    ['very fine sandy loam (by hand)', 'sandy loam'],
    ['heavy clay', 'clay'],
    ['clay soil', 'clay'],
    ['sandy_clay-loam', 'sandy clay loam'],
    ['si.c.l.', 'silty clay loam'],
    ['sandy', null],
    ['loamy', null],
    ['clay silt', null],
    ['sand clay sand', null],
    ['loam to clay loam', null],
    ['decomposed granite', null],
    ['sandstone', null],
    ['', null],
    ['constructor', null],
  ])('%s', (typed, texture) => expect(textureNamed(typed)).toBe(texture));
});

describe('ribbon test', () => {
  const cm = 0.01;
  test.each([
    [0, 'sands'],
    [0.5 * cm, 'loams'],
    [2.5 * cm, 'loams'],
    [INCH_MM / 1000, 'clay loams'],
    [4 * cm, 'clay loams'],
    [5 * cm, 'clay loams'],
    [(2 * INCH_MM) / 1000, 'clays'],
    [0.3, 'clays'],
    [NaN, undefined],
    [-1, undefined],
  ])('%s m', (ribbonM, name) => expect(ribbonClass(ribbonM)?.name).toBe(name));
  test('each texture belongs to one group', () => {
    const all = RIBBON_CLASSES.flatMap(({ textures }) => textures);
    expect([...all].sort()).toEqual(TEXTURES.map(({ texture }) => texture).sort());
  });
});

describe('intake tables', () => {
  const slopes = [0, 1, 4, 4.5, 5, 7.9, 8, 11, 12, 15.9, 16, 40, 100];
  const grounds: IntakeGround[] = TEXTURES.flatMap(({ texture }) =>
    [true, false].flatMap((covered) =>
      [true, false].map((compacted) => ({ texture, covered, compacted, slopePercent: 0 })),
    ),
  );

  test('ids differ and each table names its source', () => {
    expect(new Set(INTAKE_TABLES.map(({ id }) => id)).size).toBe(INTAKE_TABLES.length);
    for (const { source } of INTAKE_TABLES) expect(source.length).toBeGreaterThan(20);
  });

  test('figures are above zero, low is not above high, and never rise with the slope', () => {
    for (const table of INTAKE_TABLES) {
      for (const ground of grounds) {
        let last = Infinity;
        for (const slopePercent of slopes) {
          const found = table.intake({ ...ground, slopePercent });
          if (!found) continue;
          expect(found.lowMmPerH).toBeGreaterThan(0);
          expect(found.highMmPerH).toBeGreaterThanOrEqual(found.lowMmPerH);
          expect(found.lowMmPerH).toBeLessThanOrEqual(last);
          if (!table.bySlope) expect(found.lowMmPerH).toBe(table.intake(ground)!.lowMmPerH);
          last = found.lowMmPerH;
        }
      }
    }
  });

  test('cover never takes less in than bare, compact subsoil never more than uniform', () => {
    const usual = INTAKE_TABLES[0]!;
    for (const { texture } of TEXTURES) {
      for (const slopePercent of slopes) {
        const rate = (covered: boolean, compacted: boolean) =>
          usual.intake({ texture, slopePercent, covered, compacted })!.lowMmPerH;
        expect(rate(true, false)).toBeGreaterThanOrEqual(rate(false, false));
        expect(rate(true, true)).toBeGreaterThanOrEqual(rate(false, true));
        expect(rate(true, true)).toBeLessThanOrEqual(rate(true, false));
        expect(rate(false, true)).toBeLessThanOrEqual(rate(false, false));
      }
    }
  });

  test('the usual tables know every texture', () => {
    for (const table of INTAKE_TABLES.slice(0, 4)) {
      for (const ground of grounds) expect(table.intake(ground), ground.texture).not.toBeNull();
    }
  });
});

test('Green and Ampt: one row for each texture but silt, more pores than can be filled', () => {
  expect(GREEN_AMPT_SOILS).toHaveLength(11);
  for (const row of GREEN_AMPT_SOILS) expect(row.effectivePorosity).toBeLessThan(row.porosity);
});
