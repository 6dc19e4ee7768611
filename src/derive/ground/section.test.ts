import { describe, expect, test } from 'vitest';
import type { Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import { emptyPlan } from '../../plan/empty.ts';
import type { Level, Plan, Plant } from '../../plan/records.ts';
import { crossSection } from './section.ts';

type Xyz = readonly [number, number, number];
const planWith = (spots: readonly Xyz[], more: Partial<Plan> = {}): Plan => ({
  ...emptyPlan(),
  levels: Table.of<Level>(
    spots.map(([x, y, zM], i) => ({ id: `L${String(i).padStart(2, '0')}`, at: [x, y] as Point, zM })),
  ),
  ...more,
});
/** A roof with its ridge at x = 10, 3 m high. */
const ROOF: readonly Xyz[] = [
  [0, 0, 0],
  [0, 20, 0],
  [20, 0, 0],
  [20, 20, 0],
  [10, 0, 3],
  [10, 20, 3],
];

describe('the ground from the side', () => {
  test('across a ridge: lengths, slopes, heights', () => {
    const section = crossSection(planWith(ROOF), [
      [0, 10],
      [15, 10],
    ])!;
    expect(section.lengthM).toBe(15);
    expect(section.groundLengthM).toBeCloseTo(Math.hypot(10, 3) + Math.hypot(5, 1.5), 9);
    expect([section.lowestM, section.highestM]).toEqual([0, expect.closeTo(3, 9)]);
    expect(section.overallPercent).toBeCloseTo((1.5 / 15) * 100, 9);
    expect(Math.abs(section.steepest!.percent)).toBeCloseTo(30, 9);
    expect(section.outside).toEqual([]);
    const ridge = section.places.find(({ alongM }) => Math.abs(alongM - 10) < 1e-9);
    expect(ridge?.zM).toBeCloseTo(3, 9);
  });
  test('falling ground has a negative slope', () => {
    const section = crossSection(planWith(ROOF), [
      [10, 5],
      [18, 5],
    ])!;
    expect(section.overallPercent).toBeCloseTo(-30, 9);
    expect(section.steepest!.percent).toBeCloseTo(-30, 9);
  });
  test('parts beyond the levels are named, on bent and on plane ground, and past the ends of a row', () => {
    const line: Point[] = [
      [-5, 10],
      [30, 10],
    ];
    const outside = [
      { fromM: 0, toM: expect.closeTo(5, 6) },
      { fromM: expect.closeTo(25, 6), toM: 35 },
    ];
    expect(crossSection(planWith(ROOF), line)!.outside).toEqual(outside);
    const plane = ROOF.map(([x, y]): Xyz => [x, y, x / 10]);
    expect(crossSection(planWith(plane), line)!.outside).toEqual(outside);
    const row: readonly Xyz[] = [
      [0, 10, 0],
      [20, 10, 2],
    ];
    expect(crossSection(planWith(row), line)!.outside).toEqual(outside);
    expect(
      crossSection(planWith(ROOF), [
        [-9, -5],
        [30, -5],
      ])!.outside,
    ).toEqual([{ fromM: 0, toM: 39 }]);
  });
  test('levels within a metre, plants and heads within half a metre, in order along the line', () => {
    const plant = (id: string, at: Point): Plant => ({
      id,
      at,
      name: '',
      plantClass: 'shrub',
      canopyNowM: null,
      canopyMatureM: 1,
      rootBallM: null,
      waterUse: null,
    });
    const plan = planWith([...ROOF, [4, 10.9, 1.3], [6, 11.1, 1.9]], {
      plants: Table.of([plant('P1', [12, 10.4]), plant('P2', [2, 9.4]), plant('P3', [3, 9.6])]),
    });
    const section = crossSection(plan, [
      [1, 10],
      [15, 10],
    ])!;
    expect(section.marks.map(({ table, id }) => `${table} ${id}`)).toEqual([
      'plants P3',
      'levels L06',
      'plants P1',
    ]);
    expect(section.marks[1]).toMatchObject({ alongM: 3, offM: expect.closeTo(0.9, 9), zM: 1.3 });
  });
  test('without heights it knows nothing; without length there is none', () => {
    expect(
      crossSection(planWith([]), [
        [0, 0],
        [5, 0],
      ])!.knows,
    ).toBe('nothing');
    expect(
      crossSection(planWith(ROOF), [
        [1, 1],
        [1, 1],
      ]),
    ).toBeNull();
    expect(crossSection(planWith(ROOF), [])).toBeNull();
  });
});
