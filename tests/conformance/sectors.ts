import { intersection, regionArea, regionOf, sectorRing } from '../../src/base/clip.ts';
import type { Point } from '../../src/base/point.ts';
import { Table } from '../../src/base/table.ts';
import { coverageOf, patternArea } from '../../src/derive/existing/coverage/index.ts';
import { emptyPlan, UNMEASURED_HEAD } from '../../src/plan/empty.ts';
import type { Area, HeadPattern } from '../../src/plan/records.ts';
import { table, type Case } from './cases.ts';

const FOOT_M = 0.3048;
const SOURCE = {
  sector: 'closed form, worked out by hand: sector of a circle, (sweep / 360) pi r^2',
  segment: 'closed form, worked out by hand: segment of a circle, r^2 acos(d / r) - d sqrt(r^2 - d^2)',
  lens: 'closed form, worked out by hand: ground common to two circles, 2 r^2 acos(d / 2r) - (d / 2) sqrt(4 r^2 - d^2)',
  shadow: 'closed form, worked out by hand: wedge behind a wall, r^2 atan(w / d) - w d',
} as const;

const sector = (radiusFt: number, sweepDeg: number): HeadPattern => ({
  kind: 'sector',
  radiusM: radiusFt * FOOT_M,
  startDeg: 17,
  sweepDeg,
});

function box(x: number, y: number, w: number, h: number): Point[] {
  return [
    [x, y],
    [x + w, y],
    [x + w, y + h],
    [x, y + h],
  ];
}

/** Figures of one head at the origin, in a plan with one area. */
function one(pattern: HeadPattern, use: Area['use'], outline: Point[]) {
  const plan = {
    ...emptyPlan(),
    areas: Table.of<Area>([{ id: 'A', use, name: '', outline, holes: [] }]),
    heads: Table.of([{ ...UNMEASURED_HEAD, id: 'H', at: [0, 0] as const, pattern }]),
  };
  return coverageOf(plan).heads.get('H')!;
}

/** Square feet. */
const areas: readonly Case[] = (
  [
    [10, 90, 78.5398],
    [10, 180, 157.0796],
    [12, 90, 113.0973],
    [12, 180, 226.1947],
    [12, 360, 452.3893],
    [15, 90, 176.7146],
    [15, 360, 706.8583],
    [8, 120, 67.0206],
    [17, 240, 605.2802],
  ] as const
).map(([radiusFt, sweepDeg, ft2]): Case => ({
  name: `${radiusFt} ft over ${sweepDeg} degrees, ft2`,
  got: () => patternArea(sector(radiusFt, sweepDeg)) / FOOT_M ** 2,
  expected: ft2,
  within: { absolute: 0.0001 },
  source: SOURCE.sector,
}));

const polygons: readonly Case[] = ([30, 90, 180, 270, 360] as const).map((sweepDeg): Case => ({
  name: `polygon of a radius of 1 m over ${sweepDeg} degrees, m2`,
  got: () => regionArea(regionOf(sectorRing([3, 4], 1, 17, sweepDeg))),
  expected: (sweepDeg / 360) * Math.PI,
  // The grid of the clipping is a micrometre: a perimeter of 6 m by that.
  within: { absolute: 1e-5 },
  source: SOURCE.sector,
}));

const cuts: readonly Case[] = [
  {
    name: '10 ft half circle on a bed of 6 ft: part beyond the bed, ft2',
    // r = 10, d = 6: half of the circle lies on the bed's side; beyond it 100 acos(0.6) - 6 x 8 = 44.7295.
    got: () =>
      one({ ...sector(10, 180), startDeg: 0 } as HeadPattern, 'bed', box(-9, 0, 18, 6 * FOOT_M)).oversprayM2 /
      FOOT_M ** 2,
    expected: 44.7295,
    within: { share: 0.001 },
    source: SOURCE.segment,
  },
  {
    name: '12 ft circle cut 4 ft from the head: part beyond, ft2',
    // 144 acos(1/3) - 4 sqrt(128) = 177.2571 - 45.2548.
    got: () => one(sector(12, 360), 'bed', box(-9, -9, 18, 9 + 4 * FOOT_M)).oversprayM2 / FOOT_M ** 2,
    expected: 132.0033,
    within: { share: 0.001 },
    source: SOURCE.segment,
  },
  {
    name: 'two circles of 12 ft, 12 ft apart: common ground, ft2',
    // 288 acos(1/2) - 6 sqrt(432) = 301.5929 - 124.7077.
    got: () =>
      regionArea(
        intersection(
          regionOf(sectorRing([0, 0], 12 * FOOT_M, 0, 360)),
          regionOf(sectorRing([12 * FOOT_M, 0], 12 * FOOT_M, 0, 360)),
        ),
      ) /
      FOOT_M ** 2,
    expected: 176.8852,
    within: { share: 0.001 },
    source: SOURCE.lens,
  },
  {
    name: 'a wall 4 ft off, 8 ft long, in a circle of 12 ft: on the wall, ft2',
    // Wedge of 2 atan(4/4) = 90 degrees: 113.0973 less the triangle of 16 before the wall.
    got: () =>
      one(sector(12, 360), 'building', box(4 * FOOT_M, -4 * FOOT_M, 0.001, 8 * FOOT_M)).onWallM2 /
      FOOT_M ** 2,
    expected: 97.0973,
    within: { share: 0.002 },
    source: SOURCE.shadow,
  },
];

export const sectors = [
  table('ground wetted by a head', [...areas, ...polygons]),
  table('ground wetted beside the bed', cuts),
];
