import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { regionArea } from '../../../base/clip.ts';
import { polar, type Point, type Ring } from '../../../base/point.ts';
import { polygonContains } from '../../../base/polygon.ts';
import { segmentCrossing } from '../../../base/polyline.ts';
import { Table } from '../../../base/table.ts';
import { emptyPlan, UNMEASURED_HEAD } from '../../../plan/empty.ts';
import type { Area, Head, HeadPattern, Plan } from '../../../plan/records.ts';
import { supply } from '../../plan-for-tests.ts';
import { coverageOf, patternArea, patternOutline, type HeadCoverage } from './index.ts';

function box(x: number, y: number, w: number, h: number): Point[] {
  return [
    [x, y],
    [x + w, y],
    [x + w, y + h],
    [x, y + h],
  ];
}

function area(id: string, use: Area['use'], outline: Point[], holes: Area['holes'] = []): Area {
  return { id, use, name: id, outline, holes };
}

function sector(radiusM: number, startDeg: number, sweepDeg: number): HeadPattern {
  return { kind: 'sector', radiusM, startDeg, sweepDeg };
}

function head(id: string, at: Point, pattern: HeadPattern | null, more: Partial<Head> = {}): Head {
  return { ...UNMEASURED_HEAD, id, at, pattern, flowLph: 100, ...more };
}

function planWith(areas: Area[], heads: Head[], more: Partial<Plan> = {}): Plan {
  return { ...emptyPlan(), areas: Table.of(areas), heads: Table.of(heads), ...more };
}

function only(plan: Plan): HeadCoverage {
  return [...coverageOf(plan).heads.values()][0]!;
}

const circle = (radiusM: number) => Math.PI * radiusM ** 2;

describe('patterns', () => {
  test.each([
    [sector(3, 0, 90), circle(3) / 4],
    [sector(3, 350, 180), circle(3) / 2],
    [sector(3, 0, 360), circle(3)],
    [sector(3, 90, -90), circle(3) / 4],
    [{ kind: 'strip', lengthM: 5, widthM: 1.5, directionDeg: 30 } as const, 7.5],
    [sector(0, 0, 90), 0],
  ])('%o', (pattern, areaM2) => {
    expect(patternArea(pattern)).toBeCloseTo(areaM2, 9);
    // On no bed at all, every square metre falls elsewhere.
    if (areaM2 > 0)
      expect(only(planWith([], [head('H', [7, 8], pattern)]))).toMatchObject({ areaM2, onBedM2: 0 });
  });

  test('the drawn outline of a sweep written backwards is that of the same ground', () => {
    const back = patternOutline([0, 0], sector(2, 90, -90))!;
    expect(back.every(([x, y]) => x > -1e-9 && y > -1e-9)).toBe(true);
  });
});

describe('what a head wets', () => {
  test('half of a circle on the bed, half beyond its edge', () => {
    const got = only(
      planWith([area('B', 'bed', box(-10, -10, 20, 10))], [head('H', [0, 0], sector(3, 0, 360))]),
    );
    expect(got.onBedM2).toBeCloseTo(circle(3) / 2, 3);
    expect(got.elsewhereM2).toBeCloseTo(circle(3) / 2, 3);
    expect(got.oversprayShare).toBeCloseTo(0.5, 4);
  });

  test('paving lies on the bed, the bed lies in the lawn, and a hole is neither', () => {
    const plan = planWith(
      [
        area('L', 'lawn', box(-20, -20, 40, 40)),
        area('B', 'bed', box(-5, -5, 10, 10), [box(-5, 1, 2, 2)]),
        area('P', 'paving', box(0, -20, 1, 40)),
      ],
      [head('H', [0, 0], { kind: 'strip', lengthM: 20, widthM: 20, directionDeg: 0 })],
    );
    expect(only(plan)).toMatchObject({ areaM2: 400, onWallM2: 0 });
    expect(only(plan).onPavingM2).toBeCloseTo(20, 6);
    expect(only(plan).onBedM2).toBeCloseTo(100 - 10 - 4, 6);
    expect(only(plan).onLawnM2).toBeCloseTo(400 - 20 - 86, 6);
    expect(coverageOf(plan).beds[0]).toMatchObject({ id: 'B', coveredShare: 1 });
    expect(coverageOf(plan).beds[0]!.areaM2).toBeCloseTo(86, 6);
  });

  test('a bed wholly inside of a paving is an island and stays a bed', () => {
    const plan = planWith(
      [area('P', 'paving', box(-20, -20, 40, 40)), area('B', 'bed', box(-2, -2, 4, 4))],
      [head('H', [0, 0], { kind: 'strip', lengthM: 8, widthM: 8, directionDeg: 0 })],
    );
    expect(only(plan).onBedM2).toBeCloseTo(16, 6);
    expect(only(plan).onPavingM2).toBeCloseTo(48, 6);
  });

  test('beds that overlap count once in the sum and each in full by itself', () => {
    const plan = planWith(
      [area('A', 'bed', box(0, 0, 4, 4)), area('B', 'bed', box(2, 0, 4, 4))],
      [head('H', [3, 2], { kind: 'strip', lengthM: 6, widthM: 4, directionDeg: 0 })],
    );
    expect(only(plan).onBedM2).toBeCloseTo(24, 6);
    expect(coverageOf(plan).total.bedAreaM2).toBeCloseTo(24, 6);
    expect(coverageOf(plan).beds.map(({ areaM2 }) => areaM2)).toEqual([
      expect.closeTo(16, 6),
      expect.closeTo(16, 6),
    ]);
  });

  test('what is overspray depends on what the head is there for', () => {
    const areas = [area('L', 'lawn', box(-9, 0, 18, 9)), area('B', 'bed', box(-9, -9, 18, 9))];
    const pattern = sector(2, 0, 90);
    const both = coverageOf(
      planWith(areas, [head('b', [0, 0], pattern), head('l', [0, 0], pattern, { waters: 'lawn' })]),
    );
    expect(both.heads.get('b')!.oversprayShare).toBeCloseTo(1, 6);
    expect(both.heads.get('l')!.oversprayShare).toBeCloseTo(0, 6);
    expect(both.total.oversprayM2).toBeCloseTo(circle(2) / 4, 4);
  });
});

describe('buildings', () => {
  test('a wall across the sector: what is beyond it hits the wall', () => {
    // Half circle to the north, a long wall from y = 1 on: what is left is the half circle below the chord.
    const plan = planWith(
      [area('B', 'bed', box(-9, 0, 18, 1)), area('W', 'building', box(-9, 1, 18, 0.1))],
      [head('H', [0, 0], sector(3, 0, 180))],
    );
    const beyond = 9 * Math.acos(1 / 3) - Math.sqrt(8);
    expect(only(plan).onWallM2).toBeCloseTo(beyond, 2);
    expect(only(plan).onBedM2).toBeCloseTo(circle(3) / 2 - beyond, 2);
    expect(only(plan).elsewhereM2).toBeCloseTo(0, 3);
  });

  test('a post hides what lies behind it: the wedge between its edges', () => {
    // Seen from the origin a wall from (2, -1) to (2, 1) hides atan(1/2) to either side.
    const plan = planWith(
      [area('W', 'building', box(2, -1, 0.01, 2))],
      [head('H', [0, 0], sector(6, 0, 360))],
    );
    const wedge = 36 * Math.atan(0.5) - 2;
    expect(only(plan).onWallM2).toBeCloseTo(wedge, 1);
    expect(Math.abs(only(plan).onWallM2 - wedge)).toBeLessThan(0.001 * circle(6));
  });

  test.each([
    ['on its line', 0],
    ['drawn 5 cm inside', 0.05],
    ['5 cm before it', -0.05],
  ])('a head at the foot of a wall (%s) wets the open side whole', (_, y) => {
    const plan = planWith(
      [area('W', 'building', box(-20, 0, 40, 8))],
      [head('H', [0, y], sector(4, 180, 180))],
    );
    expect(only(plan).onWallM2).toBeLessThan(0.06 * 8);
    const turned = planWith(
      [area('W', 'building', box(-20, 0, 40, 8))],
      [head('H', [0, y], sector(4, 0, 360))],
    );
    expect(only(turned).onWallM2).toBeCloseTo(circle(4) / 2, 0);
  });

  test('a head in the middle of a garden wall sprays to the side that it is turned to', () => {
    const wall = area('W', 'building', box(-20, -0.05, 40, 0.1));
    for (const startDeg of [0, 180]) {
      const got = only(planWith([wall], [head('H', [0, 0], sector(4, startDeg, 180))]));
      expect(got.onWallM2 / got.areaM2).toBeLessThan(0.05);
    }
  });

  test('a head drawn inside of a building is named, and the building does not stop it', () => {
    const plan = planWith(
      [area('W', 'building', box(-5, -5, 10, 10))],
      [head('H', [0, 0], sector(3, 0, 360))],
    );
    expect(coverageOf(plan).headsInBuildings).toEqual(['H']);
    expect(only(plan).onWallM2).toBe(0);
  });

  test('water counted place by place: no wall between the head and the place', () => {
    const walls = fc.array(
      fc.record({
        x: fc.double({ min: -6, max: 6, noNaN: true }),
        y: fc.double({ min: -6, max: 6, noNaN: true }),
        w: fc.double({ min: 0.2, max: 3, noNaN: true }),
        h: fc.double({ min: 0.2, max: 3, noNaN: true }),
      }),
      { minLength: 1, maxLength: 4 },
    );
    fc.assert(
      fc.property(
        walls,
        fc.integer({ min: 0, max: 359 }),
        fc.integer({ min: 20, max: 360 }),
        (list, start, sweep) => {
          const clearOfHead = list.filter(
            ({ x, y, w, h }) => x > 0.2 || x + w < -0.2 || y > 0.2 || y + h < -0.2,
          );
          const areas = clearOfHead.map(({ x, y, w, h }, i) => area(`W${i}`, 'building', box(x, y, w, h)));
          const got = only(planWith(areas, [head('H', [0, 0], sector(5, start, sweep))]));
          let seen = 0;
          let all = 0;
          for (let r = 0.05; r < 5; r += 0.1) {
            for (let k = 0; k < 180; k++) {
              const p = polar([0, 0], r, start + (sweep * (k + 0.5)) / 180);
              all += r;
              if (areas.every(({ outline }) => isOpen(outline, p))) seen += r;
            }
          }
          expect(Math.abs((got.areaM2 - got.onWallM2) / got.areaM2 - seen / all)).toBeLessThan(0.02);
        },
      ),
      { seed: 4711, numRuns: 40 },
    );
  });

  function isOpen(outline: Ring, p: Point): boolean {
    if (polygonContains(outline, [], p)) return false;
    return outline.every(
      (a, i) => segmentCrossing([0, 0], p, a, outline[(i + 1) % outline.length]!) === null,
    );
  }
});

describe('beds and zones', () => {
  const bed = area('B', 'bed', box(0, 0, 10, 4));

  test('rate on a bed: each head by the share of its water that falls there', () => {
    const plan = planWith(
      [bed, area('C', 'bed', box(0, -4, 10, 4))],
      [
        head('1', [5, 0], sector(2, 0, 360), { flowLph: 80 }),
        head('2', [5, 4], sector(2, 180, 180), { flowLph: 40 }),
        head('3', [5, 4], sector(2, 180, 180), { flowLph: null }),
        head('4', [5, 4], null, { flowLph: 1000 }),
      ],
    );
    const { beds, total, headsWithoutPattern } = coverageOf(plan);
    expect(beds[0]!.rateMmPerH).toBeCloseTo((80 / 2 + 40) / 40, 4);
    expect(beds[1]!.rateMmPerH).toBeCloseTo(80 / 2 / 40, 4);
    expect(beds[0]!.coveredShare).toBeCloseTo((2 * circle(2)) / 2 / 40, 3);
    expect(beds[0]!.headIds).toEqual(['1', '2', '3']);
    expect(total.headsWithoutFlow).toEqual(['3']);
    expect(headsWithoutPattern).toEqual(['4']);
    // The usual figure of the trade: all flow over all beds.
    expect(total.rateMmPerH).toBeCloseTo(1120 / 80, 9);
  });

  test('overlapping sectors are wet ground once; the share goes by flow', () => {
    const plan = planWith(
      [bed],
      [
        head('1', [5, 0], sector(2, 180, 180), { flowLph: 30 }),
        head('2', [5, 0], sector(2, 180, 180), { flowLph: 30 }),
        head('3', [5, 0], sector(2, 0, 180), { flowLph: 60 }),
      ],
    );
    const { total, overspray } = coverageOf(plan);
    expect(total.oversprayShare).toBeCloseTo(0.5, 6);
    expect(total.oversprayM2).toBeCloseTo(circle(2) / 2, 4);
    expect(regionArea(overspray)).toBeCloseTo(total.oversprayM2, 9);
    expect(total.wettedM2).toBeCloseTo(circle(2), 4);
    expect(total.shares).toMatchObject({ bed: expect.closeTo(0.5, 6), elsewhere: expect.closeTo(0.5, 6) });
  });

  test('without any flow the share goes by area', () => {
    const quiet = { flowLph: null };
    const plan = planWith(
      [bed],
      [head('1', [5, 0], sector(1, 180, 180), quiet), head('2', [5, 0], sector(2, 0, 180), quiet)],
    );
    expect(coverageOf(plan).total).toMatchObject({ flowLph: null, rateMmPerH: null });
    expect(coverageOf(plan).total.oversprayShare).toBeCloseTo(1 / 5, 4);
  });

  test('two zones part a bed half-way between their heads', () => {
    const plan = planWith(
      [bed],
      [
        head('1', [2, 2], sector(2, 0, 360), { zone: '1', flowLph: 60 }),
        head('2', [4, 2], sector(2, 0, 360), { zone: '2', flowLph: 70 }),
        head('3', [8, 2], sector(2, 0, 360), { zone: '2', flowLph: 70 }),
      ],
      { supplies: Table.of([supply('V1', [0, 0], { zone: '1' }), supply('V2', [0, 0], { zone: '2' })]) },
    );
    const { zones } = coverageOf(plan);
    expect(zones.map(({ zone, bedAreaM2 }) => [zone, bedAreaM2])).toEqual([
      ['1', expect.closeTo(12, 6)],
      ['2', expect.closeTo(28, 6)],
    ]);
    expect(zones[0]!.rateMmPerH).toBeCloseTo(5, 6);
  });

  test('no head, no bed, no pattern: figures are null, never zero', () => {
    expect(coverageOf(emptyPlan())).toMatchObject({
      beds: [],
      zones: [],
      total: { flowLph: null, rateMmPerH: null, oversprayShare: null, shares: null, wettedM2: 0 },
    });
    const plan = planWith(
      [],
      [head('H', [0, 0], { kind: 'strip', lengthM: 3, widthM: 1, directionDeg: null })],
    );
    expect(coverageOf(plan)).toMatchObject({ headsWithoutPattern: ['H'], total: { oversprayShare: null } });
  });

  test('remembered while areas, heads and supplies are the same', () => {
    const plan = planWith([bed], [head('1', [5, 0], sector(2, 0, 360))]);
    expect(coverageOf({ ...plan, site: { ...plan.site } } as Plan)).toBe(coverageOf(plan));
    expect(coverageOf({ ...plan, heads: Table.of() })).not.toBe(coverageOf(plan));
  });
});

test('for any plan the parts of each head add up to its pattern', () => {
  const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
  const someArea = fc
    .record({
      use: fc.constantFrom<Area['use']>('bed', 'lawn', 'paving', 'building'),
      at: fc.tuple(number(-8, 8), number(-8, 8)),
      radii: fc.array(number(0.2, 8), { minLength: 3, maxLength: 7 }),
    })
    .map(({ use, at, radii }) => ({
      use,
      outline: radii.map((r, i) => polar(at, r, (360 * i) / radii.length)),
    }));
  const someHead = fc.record({
    at: fc.tuple(number(-8, 8), number(-8, 8)),
    pattern: fc.oneof(
      fc.record({
        kind: fc.constant('sector' as const),
        radiusM: number(0.1, 6),
        startDeg: number(-720, 720),
        sweepDeg: number(0.5, 360),
      }),
      fc.record({
        kind: fc.constant('strip' as const),
        lengthM: number(0.1, 6),
        widthM: number(0.1, 6),
        directionDeg: number(-360, 360),
      }),
    ),
    flowLph: fc.option(number(0, 500)),
    waters: fc.constantFrom<Head['waters']>('bed', 'lawn'),
    zone: fc.constantFrom(null, '1', '2'),
  });
  fc.assert(
    fc.property(
      fc.array(someArea, { maxLength: 5 }),
      fc.array(someHead, { maxLength: 5 }),
      (areas, heads) => {
        const plan = planWith(
          areas.map(({ use, outline }, i) => area(`A${i}`, use, outline)),
          heads.map((one, i) => head(`H${i}`, one.at, one.pattern, one)),
        );
        const coverage = coverageOf(plan);
        for (const one of coverage.heads.values()) {
          const parts = [one.onBedM2, one.onPavingM2, one.onLawnM2, one.onWallM2, one.elsewhereM2];
          const sum = parts.reduce((total, part) => total + part, 0);
          expect(Math.min(...parts)).toBeGreaterThanOrEqual(0);
          expect(Math.abs(sum - one.areaM2)).toBeLessThanOrEqual(1e-4 + 1e-4 * one.areaM2);
          expect(one.oversprayShare).toBeLessThanOrEqual(1);
        }
        for (const bed of coverage.beds) {
          expect(bed.coveredShare).toBeGreaterThanOrEqual(0);
          expect(bed.coveredShare).toBeLessThanOrEqual(1);
        }
        const { shares } = coverage.total;
        if (shares) {
          const sum = shares.bed + shares.paving + shares.lawn + shares.wall + shares.elsewhere;
          expect(sum).toBeCloseTo(1, 3);
        }
        const parts = coverage.zones.reduce((sum, { bedAreaM2 }) => sum + bedAreaM2, 0);
        if (heads.some(({ waters }) => waters === 'bed')) {
          expect(Math.abs(parts - coverage.total.bedAreaM2)).toBeLessThan(1e-3 * (1 + parts));
        }
        expect(regionArea(coverage.overspray)).toBeCloseTo(coverage.total.oversprayM2, 6);
      },
    ),
    { seed: 815, numRuns: 120 },
  );
});
