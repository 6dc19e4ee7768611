import { describe, expect, test } from 'vitest';
import type { Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import type { Area, Plan, Plant } from '../../plan/records.ts';
import { blank, control, emitter, level, planOf, supply } from '../plan-for-tests.ts';
import { studyOf } from '../study.ts';
import { lengthWithin } from './sleeve-under-paving.ts';

const find = (plan: Plan, rule: string) => studyOf(plan).notices.find((notice) => notice.rule === rule);
const plant = (id: string, at: Point): Plant => ({
  id,
  at,
  name: id,
  plantClass: 'shrub',
  canopyNowM: null,
  canopyMatureM: 1.2,
  rootBallM: null,
  waterUse: null,
});

describe('emitters on a slope', () => {
  /** Falls toward the south by `percent`; the stem stands at y = 2. */
  const site = (percent: number, ...emitterY: number[]): Plan => ({
    ...planOf({
      supplies: [supply('V', [0, 0])],
      controls: [control('C', [0, 0])],
      levels: [
        level('a', 0, 0, 0),
        level('b', 9, 0, 0),
        level('c', 0, 9, 0.09 * percent),
        level('d', 9, 9, 0.09 * percent),
      ],
      runs: [blank('H', [0, 0], [4, 0], [4, 9])],
      emitters: emitterY.map((y, i) => emitter(`E${i}`, 'H', [4, y], { plantId: 'P' })),
    }),
    plants: Table.of([plant('P', [4, 2])]),
  });
  test('all below the stem is told on more than five percent', () => {
    expect(find(site(12, 1.7, 1.6), 'emitters-downhill')!.refs).toEqual([{ table: 'plants', id: 'P' }]);
    expect(find(site(4.9, 1.7, 1.6), 'emitters-downhill')).toBeUndefined();
  });
  test('one above, or level with the stem, is enough', () => {
    expect(find(site(12, 1.7, 2.3), 'emitters-downhill')).toBeUndefined();
    expect(find(site(12, 1.7, 2), 'emitters-downhill')).toBeUndefined();
  });
});

describe('tubing over paving', () => {
  const walk: Area = {
    id: 'W',
    use: 'paving',
    name: 'walk',
    outline: [
      [2, -1],
      [3, -1],
      [3, 1],
      [2, 1],
    ],
    holes: [],
  };
  const site = (use: Area['use'], ...path: Point[]): Plan => ({
    ...planOf({
      supplies: [supply('V', [0, 0])],
      controls: [control('C', [0, 0])],
      runs: [blank('H', ...path)],
    }),
    areas: Table.of([{ ...walk, use }]),
  });
  test('asks for a sleeve where a run passes under it', () => {
    const told = find(site('paving', [0, 0], [5, 0]), 'sleeve-under-paving')!;
    expect(told.severity).toBe('info');
    expect(told.message).toContain('Run "H" passes under paving');
    expect(told.message).toContain("sleeve twice the pipe's diameter");
    expect(find(site('lawn', [0, 0], [5, 0]), 'sleeve-under-paving')).toBeUndefined();
    expect(find(site('paving', [0, 0], [1.9, 0], [1.9, 5]), 'sleeve-under-paving')).toBeUndefined();
  });
  test('the length over an area, holes left out', () => {
    expect(
      lengthWithin(
        [
          [0, 0],
          [5, 0],
        ],
        walk,
      ),
    ).toBeCloseTo(1, 9);
    expect(
      lengthWithin(
        [
          [2.5, 0],
          [5, 0],
        ],
        walk,
      ),
    ).toBeCloseTo(0.5, 9);
    const hole: Point[] = [
      [2.25, -0.5],
      [2.75, -0.5],
      [2.75, 0.5],
      [2.25, 0.5],
    ];
    expect(
      lengthWithin(
        [
          [0, 0],
          [5, 0],
        ],
        { ...walk, holes: [hole] },
      ),
    ).toBeCloseTo(0.5, 9);
  });
});

test('a supply and a control set outside the measured levels', () => {
  const site = (x: number, zM: number | null): Plan =>
    planOf({
      levels: [level('a', 0, -1, 0), level('b', 9, -1, 1), level('c', 0, 9, 2)],
      supplies: [supply('V', [x, 0], { zM })],
      controls: [control('C', [1, 0])],
    });
  const told = find(site(-3, null), 'outside-levels')!;
  expect(told).toMatchObject({ severity: 'info', refs: [{ table: 'supplies', id: 'V' }] });
  expect(told.message).toBe(
    'Supply "V" lies outside the measured levels: its height is carried on from the nearest slope. Measure a level there.',
  );
  expect(find(site(1, null), 'outside-levels')).toBeUndefined();
  expect(find(site(-3, 2), 'outside-levels')).toBeUndefined();
});
