import { describe, expect, test } from 'vitest';
import fc from 'fast-check';
import { distance, type Point } from '../../base/point.ts';
import { nearestOnPath, pathLength } from '../../base/polyline.ts';
import { distanceToRing, polygonContains } from '../../base/polygon.ts';
import { Table } from '../../base/table.ts';
import { emptyPlan } from '../../plan/empty.ts';
import type { Area, Plan, Plant } from '../../plan/records.ts';
import {
  addPlants,
  mayStand,
  MOST_PLANTS,
  NO_STROKE,
  plantGrid,
  plantsAlong,
  standingPlants,
  stroked,
  TRIANGLE,
  underBrush,
  type RowChoices,
  type Stems,
} from './index.ts';

const FOOT = 0.3048;
const box = (x: number, y: number, wide: number, high: number): Point[] => [
  [x, y],
  [x + wide, y],
  [x + wide, y + high],
  [x, y + high],
];
const area = (id: string, use: Area['use'], outline: Point[], holes: Point[][] = []): Area => ({
  id,
  use,
  name: id,
  outline,
  holes,
});
const planOf = (...areas: Area[]): Plan => ({ ...emptyPlan(), areas: Table.of(areas) });
const shrub: Omit<Plant, 'id' | 'at'> = {
  name: '',
  plantClass: 'shrub',
  canopyNowM: null,
  canopyMatureM: 1,
  rootBallM: null,
  waterUse: null,
};
const points = (stems: Stems): readonly Point[] => {
  if (!stems.ok) throw new Error(stems.why);
  return stems.points;
};
const nearest = (list: readonly Point[]): number => {
  let least = Infinity;
  list.forEach((p, i) => list.slice(i + 1).forEach((q) => (least = Math.min(least, distance(p, q)))));
  return least;
};
const ROW: RowChoices = { spacingM: 1, firstM: 0, bothEnds: false, rows: 1, rowSpacingM: 1, stagger: false };

describe('rows', () => {
  test('at a spacing from the first offset on', () => {
    const line: Point[] = [
      [0, 0],
      [10, 0],
    ];
    expect(points(plantsAlong(line, { ...ROW, spacingM: 3, firstM: 0.5 })).map(([x]) => x)).toEqual([
      0.5, 3.5, 6.5, 9.5,
    ]);
    expect(points(plantsAlong(line, { ...ROW, spacingM: 2.5 }))).toHaveLength(5);
    expect(points(plantsAlong(line, { ...ROW, firstM: 11 }))).toEqual([]);
  });
  test('one at either end and evenly between, no closer than the spacing', () => {
    const line: Point[] = [
      [0, 0],
      [10, 0],
    ];
    const xs = points(plantsAlong(line, { ...ROW, spacingM: 3, bothEnds: true })).map(([x]) => x);
    expect(xs).toHaveLength(4);
    expect(xs[0]).toBe(0);
    expect(xs[3]).toBeCloseTo(10, 9);
    expect(xs[1]).toBeCloseTo(10 / 3, 9);
  });
  test('round a corner the spacing is along the line', () => {
    const line: Point[] = [
      [0, 0],
      [1.5, 0],
      [1.5, 3],
    ];
    expect(points(plantsAlong(line, ROW))[2]).toEqual([1.5, 0.5]);
  });
  test('24 rows at 3.34 ft on a slope of 420 ft by 59 ft in one go: 3,000 plants', () => {
    const line: Point[] = [
      [1.5 * FOOT, 0.716 * FOOT],
      [418.5 * FOOT, 0.716 * FOOT],
    ];
    const stems = plantsAlong(line, {
      spacingM: 3.34 * FOOT,
      firstM: 0,
      bothEnds: false,
      rows: 24,
      rowSpacingM: 2.5 * FOOT,
      stagger: true,
    });
    expect(points(stems)).toHaveLength(3000);
    expect(points(stems).every(([, y]) => y > 0 && y < 59 * FOOT)).toBe(true);
  });
  test('a slip of the spacing is told, not done', () => {
    const line: Point[] = [
      [0, 0],
      [1000, 0],
    ];
    expect(plantsAlong(line, { ...ROW, spacingM: 0 }).ok).toBe(false);
    expect(plantsAlong(line, { ...ROW, spacingM: NaN }).ok).toBe(false);
    const many = plantsAlong(line, { ...ROW, spacingM: 0.05, rows: 2, rowSpacingM: 1 });
    expect(many.ok ? '' : many.why).toContain('more than 20,000');
    expect(points(plantsAlong([[0, 0]], ROW))).toEqual([]);
  });
  test('every plant lies on the line', () => {
    const place = fc.tuple(fc.integer({ min: 0, max: 20 }), fc.integer({ min: 0, max: 20 }));
    fc.assert(
      fc.property(
        fc.array(place, { minLength: 2, maxLength: 6 }),
        fc.double({ min: 0.3, max: 4, noNaN: true }),
        fc.boolean(),
        (cells, spacingM, bothEnds) => {
          const path = cells.map(([x, y]): Point => [x, y]);
          const lengthM = pathLength(path);
          fc.pre(lengthM > 0);
          const stems = points(plantsAlong(path, { ...ROW, spacingM, bothEnds }));
          for (const at of stems) expect(nearestOnPath(path, at).distance).toBeLessThan(1e-9);
          expect(Math.abs(stems.length - (Math.floor(lengthM / spacingM) + 1))).toBeLessThanOrEqual(
            bothEnds && lengthM < spacingM ? 1 : 0,
          );
        },
      ),
      { seed: 21, numRuns: 200 },
    );
  });
});

describe('grids', () => {
  const GRID = { spacingM: 1, rowSpacingM: null, stagger: true, directionDeg: null, edgeM: 0.25 };
  const bed = area('B', 'bed', box(0, 0, 10, 6));

  test('triangles of equal sides, away from the edge', () => {
    const stems = points(plantGrid(planOf(bed), { ...bed, beds: null }, GRID));
    expect(nearest(stems)).toBeCloseTo(1, 9);
    const heights = [...new Set(stems.map(([, y]) => y.toFixed(6)))].map(Number).sort((a, b) => a - b);
    expect(heights[1]! - heights[0]!).toBeCloseTo(TRIANGLE, 6);
    // 5.5 m hold 6.35 rows of 0.866 m.
    expect(heights).toHaveLength(7);
    expect(stems.every((at) => distanceToRing(bed.outline, at) >= 0.25 - 1e-9)).toBe(true);
  });
  test('off paving and holes, with the edge from them too', () => {
    const holed = area('B', 'bed', box(0, 0, 10, 6), [box(1, 1, 1, 1)]);
    const path = area('W', 'paving', box(4, 0, 1, 6));
    const plan = planOf(holed, path);
    const stems = points(plantGrid(plan, { ...holed, beds: null }, { ...GRID, edgeM: 0.2 }));
    expect(stems.length).toBeGreaterThan(20);
    for (const at of stems) {
      expect(polygonContains(path.outline, [], at)).toBe(false);
      expect(distanceToRing(path.outline, at)).toBeGreaterThanOrEqual(0.2 - 1e-9);
      expect(distanceToRing(holed.holes[0]!, at)).toBeGreaterThanOrEqual(0.2 - 1e-9);
      expect(polygonContains(holed.outline, holed.holes, at)).toBe(true);
    }
  });
  test('a second grid on the first finds no room', () => {
    const stems = points(plantGrid(planOf(bed), { ...bed, beds: null }, GRID));
    const planted = addPlants('Plant', stems, shrub).apply(planOf(bed));
    expect(planted.plants.size).toBe(stems.length);
    expect(points(plantGrid(planted, { ...bed, beds: null }, GRID))).toEqual([]);
  });
  test('a box over two beds plants in both, and nowhere else', () => {
    const other = area('B2', 'bed', box(12, 0, 4, 6));
    const plan = planOf(bed, other);
    const stems = points(
      plantGrid(plan, { outline: box(8, 1, 7, 4), holes: [], beds: [bed, other], edgeM: 0 }, GRID),
    );
    expect(stems.some(([x]) => x < 10)).toBe(true);
    expect(stems.some(([x]) => x > 12)).toBe(true);
    expect(stems.some(([x]) => x > 10 && x < 12)).toBe(false);
    const free = points(plantGrid(plan, { outline: box(8, 1, 7, 4), holes: [], beds: null, edgeM: 0 }, GRID));
    expect(free.some(([x]) => x > 10 && x < 12)).toBe(true);
  });
  test('hostile figures', () => {
    expect(plantGrid(planOf(bed), { ...bed, beds: null }, { ...GRID, spacingM: 0.001 }).ok).toBe(false);
    expect(plantGrid(planOf(bed), { ...bed, beds: null }, { ...GRID, rowSpacingM: 0 }).ok).toBe(false);
    const vast = area('B', 'bed', box(0, 0, 10_000, 10_000));
    const many = plantGrid(planOf(vast), { ...vast, beds: null }, { ...GRID, spacingM: 0.1 });
    expect(many.ok ? '' : many.why).toContain('Set a wider spacing');
    expect(points(plantGrid(planOf(bed), { ...bed, beds: null }, { ...GRID, edgeM: 20 }))).toEqual([]);
    expect(points(plantGrid(planOf(bed), { outline: [[0, 0]], holes: [], beds: null }, GRID))).toEqual([]);
  });
  test('stays inside any bed, at the spacing, in any direction', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 1, max: 8, noNaN: true }), { minLength: 5, maxLength: 9 }),
        fc.double({ min: 0.3, max: 2, noNaN: true }),
        fc.double({ min: -180, max: 180, noNaN: true }),
        fc.double({ min: 0, max: 0.5, noNaN: true }),
        (radii, spacingM, directionDeg, edgeM) => {
          const star = radii.map((r, i): Point => {
            const turn = (2 * Math.PI * i) / radii.length;
            return [r * Math.cos(turn), r * Math.sin(turn)];
          });
          const any = area('B', 'bed', star);
          const grid = { spacingM, rowSpacingM: null, stagger: true, directionDeg, edgeM };
          const stems = points(plantGrid(planOf(any), { ...any, beds: null }, grid));
          for (const at of stems) {
            expect(polygonContains(star, [], at)).toBe(true);
            expect(distanceToRing(star, at)).toBeGreaterThanOrEqual(edgeM - 1e-6);
          }
          if (stems.length > 1 && stems.length < 400) expect(nearest(stems)).toBeGreaterThan(spacingM - 1e-6);
        },
      ),
      { seed: 22, numRuns: 100 },
    );
  });
});

describe('brush', () => {
  const choices = { spacingM: 0.5, radiusM: 1 };
  const anywhere = () => true;
  const draw = (
    path: readonly Point[],
    plants: readonly Plant[] = [],
    may = anywhere as (at: Point) => boolean,
  ) =>
    path.reduce(
      (stroke, at) => stroked(stroke, at, choices, standingPlants(plants, choices.spacingM), may),
      NO_STROKE,
    );

  test('a press plants about the place, as far as the radius reaches', () => {
    const { points: stems } = draw([[3, 3]]);
    // Triangles of 0.5 m within 1 m: 19 places (1 + 6 + 12).
    expect(stems).toHaveLength(19);
    expect(nearest(stems)).toBeCloseTo(0.5, 9);
  });
  test('the same stroke plants the same; a second one finds no room', () => {
    const path: Point[] = [
      [0, 0],
      [2, 1],
      [3, 4],
    ];
    const first = draw(path);
    expect(draw(path).points).toEqual(first.points);
    const plants = first.points.map((at, i): Plant => ({ ...shrub, id: `P${i}`, at }));
    expect(draw(path, plants).points).toEqual([]);
  });
  test('in beds only, and off paving', () => {
    const bed = area('B', 'bed', box(0, 0, 4, 4));
    const path = area('W', 'paving', box(2, 0, 1, 4));
    const may = mayStand(planOf(bed, path), [bed], 0);
    const { points: stems } = draw(
      [
        [0, 2],
        [6, 2],
      ],
      [],
      may,
    );
    expect(stems.length).toBeGreaterThan(10);
    for (const [x] of stems) expect(x >= 0 && x <= 4 && !(x > 2 && x < 3)).toBe(true);
  });
  test('erasing finds what the brush passes', () => {
    const plants = [0, 1, 2, 3].map((x): Plant => ({ ...shrub, id: `P${x}`, at: [x, 0.4] }));
    expect(underBrush(plants, [0.5, 0], [2.2, 0], 0.6).map(({ id }) => id)).toEqual(['P1', 'P2']);
  });
  test('however it is drawn, no two are nearer than the spacing and all are in reach', () => {
    const place = fc.tuple(
      fc.double({ min: 0, max: 8, noNaN: true }),
      fc.double({ min: 0, max: 8, noNaN: true }),
    );
    fc.assert(
      fc.property(
        fc.array(place, { minLength: 1, maxLength: 6 }),
        fc.array(place, { maxLength: 5 }),
        (path, others) => {
          const plants = others.map((at, i): Plant => ({ ...shrub, id: `P${i}`, at }));
          const { points: stems } = draw(path, plants);
          expect(stems.length).toBeLessThanOrEqual(MOST_PLANTS);
          if (stems.length > 1) expect(nearest(stems)).toBeGreaterThan(0.5 - 1e-6);
          for (const at of stems) {
            expect(nearestOnPath(path, at).distance).toBeLessThanOrEqual(1 + 1e-6);
            for (const other of others) expect(distance(other, at)).toBeGreaterThan(0.5 - 1e-6);
          }
        },
      ),
      { seed: 23, numRuns: 60 },
    );
  });
});
