import type { Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import { FOOT_M } from '../../base/units.ts';
import { control, level, supply } from '../../derive/plan-for-tests.ts';
import { emptyPlan } from '../../plan/empty.ts';
import type { Area, Level, Plan, Plant, PlantClass } from '../../plan/records.ts';

/** Short ways to write plants and beds in tests, and the invented sites of the field handbook. */

export function plant(id: string, at: Point, more: Partial<Plant> = {}): Plant {
  return {
    id,
    at,
    name: '',
    plantClass: 'shrub',
    canopyNowM: null,
    canopyMatureM: 4 * FOOT_M,
    rootBallM: null,
    waterUse: null,
    ...more,
  };
}

export function area(id: string, use: Area['use'], ...outline: Point[]): Area {
  return { id, use, name: '', outline, holes: [] };
}

export function rectangle(id: string, use: Area['use'], x: number, y: number, w: number, h: number): Area {
  return area(id, use, [x, y], [x + w, y], [x + w, y + h], [x, y + h]);
}

export function planWith(parts: {
  readonly areas?: readonly Area[];
  readonly plants?: readonly Plant[];
  readonly levels?: readonly Level[];
  /** Where a supply with a control set stands. */
  readonly start?: Point;
  readonly texture?: string;
}): Plan {
  const { areas = [], plants = [], levels = [], start, texture } = parts;
  const empty = emptyPlan('test');
  return {
    ...empty,
    soil: { ...empty.soil, texture: texture ?? null },
    areas: Table.of(areas),
    plants: Table.of(plants),
    levels: Table.of(levels),
    supplies: Table.of(start ? [supply('V1', start)] : []),
    controls: Table.of(start ? [control('C1', start)] : []),
  };
}

/** Levels of a plane that rises by shares of the way east and north. */
export function tilted(east: number, north: number): Level[] {
  return [level('Z1', 0, 0, 0), level('Z2', 10, 0, 10 * east), level('Z3', 0, 10, 10 * north)];
}

const feet = (...points: readonly Point[]): Point[] =>
  points.map(([x, y]): Point => [x * FOOT_M, y * FOOT_M]);
const planted = (plantClass: PlantClass, canopyFt: number, ...at: readonly Point[]): Omit<Plant, 'id'>[] =>
  feet(...at).map((place) => {
    const { id: _, ...rest } = plant('', place, { plantClass, canopyMatureM: canopyFt * FOOT_M });
    return rest;
  });
const numbered = (plants: readonly Omit<Plant, 'id'>[]): Plant[] =>
  plants.map((one, i) => ({ id: `P${i + 1}`, ...one }));

/** Entry bed: 12 plants, an L of 184 ft2, falling 1 percent to the east, loam. */
export function entryBed(): Plan {
  return planWith({
    areas: [area('B1', 'bed', ...feet([0, 0], [24, 0], [24, 11], [16, 11], [16, 6], [0, 6]))],
    plants: numbered([
      ...planted('shrub', 3, [2, 3], [5.5, 3], [9, 3], [12.5, 3], [15.6, 3.4]),
      ...planted('shrub', 4, [18.6, 2.4], [22.3, 2.4], [17.9, 9], [22.3, 9.2]),
      ...planted('groundcover', 2, [3.8, 1], [7.3, 1]),
      ...planted('tree', 10, [20.3, 6.2]),
    ]),
    levels: tilted(-0.01, 0),
    start: feet([-5, 2])[0]!,
    texture: 'loam',
  });
}

/** Back-yard slope of 40 percent: 60 x 26 ft, 163 shrubs in nine rows and two trees, sandy loam. */
export function backYard(): Plan {
  const rows = Array.from({ length: 9 }, (_, j) =>
    Array.from({ length: j % 2 === 0 ? 19 : 17 }, (__, i): Point => [
      j % 2 === 0 ? 1.2 + 3.2 * i : 2.8 + 3.4 * i,
      1.4 + 2.9 * j,
    ]),
  ).flat();
  return planWith({
    areas: [area('B1', 'bed', ...feet([0, 0], [60, 0], [60, 26], [0, 26]))],
    plants: numbered([...planted('shrub', 4, ...rows), ...planted('tree', 15, [15, 18], [45, 18])]),
    levels: tilted(-0.005, 0.4),
    start: feet([-3, -2])[0]!,
    texture: 'sandy loam',
  });
}

/** Fill slope of 2:1: 420 x 59 ft, 3,000 shrubs in 24 contour rows, compacted clay loam. */
export function fillSlope(): Plan {
  const pitchFt = 2.8 / Math.hypot(1, 0.5);
  const firstFt = 0.8 / Math.hypot(1, 0.5);
  const rows = Array.from({ length: 24 }, (_, j) =>
    Array.from({ length: 125 }, (__, i): Point => [
      1.5 + 3.34 * i + (j % 2 === 1 ? 1.67 : 0),
      firstFt + pitchFt * j,
    ]),
  ).flat();
  return planWith({
    areas: [area('B1', 'bed', ...feet([0, 0], [420, 0], [420, 59], [0, 59]))],
    plants: numbered(planted('shrub', 3.5, ...rows)),
    levels: tilted(0, 0.5),
    start: feet([210, -2])[0]!,
    texture: 'clay loam',
  });
}

/** Beds as islands in one paving, eight in a line, each full of shrubs and ground covers in turn. */
export function islands(beds: number, plantsEach: number): Plan {
  const across = Math.ceil(Math.sqrt(plantsEach * 1.5));
  const down = Math.ceil(plantsEach / across);
  const [w, h] = [across + 1, down + 1];
  const [pitchX, pitchY] = [w + 2, h + 2];
  const lines = Math.ceil(beds / 8);
  const places = Array.from({ length: beds }, (_, i): Point => [
    2 + (i % 8) * pitchX,
    2 + Math.floor(i / 8) * pitchY,
  ]);
  return planWith({
    areas: [
      rectangle('W', 'paving', 0, 0, 8 * pitchX + 2, lines * pitchY + 2),
      ...places.map(([x, y], i) => rectangle(`B${i + 1}`, 'bed', x, y, w, h)),
    ],
    plants: places.flatMap(([x, y], i) =>
      Array.from({ length: plantsEach }, (_, k) =>
        plant(`P${i + 1}-${k + 1}`, [x + 0.7 + (k % across), y + 0.7 + Math.floor(k / across)], {
          plantClass: k % 3 === 2 ? 'groundcover' : 'shrub',
        }),
      ),
    ),
    start: [1, 1],
  });
}
