import { describe, expect, test } from 'vitest';
import type { Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import type { Area, Plan, Run } from '../../plan/records.ts';
import { blank, control, dripline, planOf, supply } from '../plan-for-tests.ts';
import { findings } from './findings-for-tests.ts';
import { areaOf, every, grid, IN } from './site-for-tests.ts';

const near = (plan: Plan): string[] =>
  findings(plan, 'first-row-near').flatMap(({ refs }) => refs.map(({ id }) => id));
const far = (plan: Plan): string[] =>
  findings(plan, 'first-row-far').flatMap(({ refs }) => refs.map(({ id }) => id));
/** The bed of 12 by 6 m with rows, and other areas under or beside it. */
const among = (plan: Plan, ...areas: readonly Area[]): Plan => ({
  ...plan,
  areas: Table.of([...plan.areas, ...areas]),
});
const YARD = areaOf('Y', 'paving', -3, -3, 15, 9);

describe('a bed that is an island in paving', () => {
  // Rows from 4 in inside of both long edges; the header at 10 cm and the far ends at 10 cm from the others.
  const rows = (firstM: number): number[] => [...every(0.45, firstM, 5.4), 6 - 4 * IN];
  test('rows 4 in from all of its edges are well', () => {
    const plan = among(grid(rows(4 * IN)), YARD);
    expect([near(plan), far(plan)]).toEqual([[], []]);
  });
  test('a first row at 1 cm', () => {
    expect(near(among(grid(rows(0.01)), YARD))).toEqual(['R0']);
    expect(near(grid(rows(0.01)))).toEqual([]);
  });
  test('a first row at 1 m', () => {
    expect(far(among(grid(rows(1)), YARD))).toEqual(['B']);
    expect(far(grid(rows(1)))).toEqual([]);
  });
});

test('a walk across the bed has edges on both sides', () => {
  const walk = areaOf('W', 'paving', -1, 2.9, 13, 3.9);
  expect(far(among(grid([0.5, 1, 1.5, 2, 2.5, 4, 4.5, 5]), walk))).toEqual(['B']);
  expect([2.8, 4].flatMap((y) => near(among(grid([y]), walk)))).toEqual([]);
  expect(near(among(grid([2.88, 4]), walk))).toEqual(['R0']);
  expect(far(among(grid([0.5, 1, 1.5, 2, 2.5, 2.8, 4, 4.5, 5]), walk))).toEqual([]);
});

describe('row ends', () => {
  /** Rows northwards to a wall at y = 6, from a header at the foot; all but `ends` metres short of the wall. */
  const rows = (short: readonly number[], more: readonly Run[] = [], firstM = 0.2, spacingM = 0.45): Plan => {
    const xs = short.map((_, i) => 0.3 + i * 0.45);
    const plan = planOf({
      supplies: [supply('V', [0, 0.3])],
      controls: [control('C', [0, 0.3])],
      runs: [
        blank('H', [0, 0.3], ...xs.map((x): Point => [x, 0.3])),
        ...xs.map((x, i) => dripline(`R${i}`, [[x, 0.3], [x, 6 - short[i]!]], { firstM, spacingM })), // prettier-ignore
        ...more,
      ],
    });
    return {
      ...plan,
      areas: Table.of([areaOf('B', 'bed', 0, 0, 6, 6), areaOf('H', 'building', -1, 6, 7, 9)]),
    };
  };
  test('one that is free at 2 cm from a wall', () => {
    expect(near(rows([0.1, 0.02, 0.1]))).toEqual(['R1']);
    expect(near(rows([0.1, 0.1]))).toEqual([]);
  });
  test('one that ends on a header there wets nothing, unless an emitter sits there', () => {
    const along = blank('F', [0.3, 5.98], [0.75, 5.98]);
    // 5.68 m of row: the last emitter 0.53 m or 1 cm before its end.
    expect(near(rows([0.02, 0.02], [along], 0.2, 0.55))).toEqual([]);
    expect(near(rows([0.02, 0.02], [along], 0.27, 0.45))).toEqual(['R0', 'R1']);
  });
  test('one that begins at the control set by the wall', () => {
    const plan = rows([0.1]);
    const fed = dripline('S', [[3, 5.98], [3, 2]], { firstM: 0.45, spacingM: 0.45 }); // prettier-ignore
    const at = (controls: Plan['controls']): Plan => ({ ...plan, controls, runs: plan.runs.with(fed) });
    expect(near(at(plan.controls))).toEqual(['S']);
    expect(near(at(plan.controls.with(control('C2', [3, 5.98]))))).toEqual([]);
  });
  test('a bend that comes near between the middles of long pieces', () => {
    const bent = dripline('Z', [[1, 5], [3, 5.98], [5, 5]], { firstM: 0.127, spacingM: 0.3 }); // prettier-ignore
    const plan = rows([0.1]);
    expect(near({ ...plan, runs: plan.runs.with(bent) })).toEqual(['Z']);
  });
});

test('loops along the edge: too near and too far', () => {
  const loop = (edgeM: number): Plan => {
    const [a, b, c, d] = [edgeM, edgeM, 12 - edgeM, 6 - edgeM];
    const ring = dripline('L', [[a, b], [c, b], [c, d], [a, d], [a, b]], { firstM: 0.2, spacingM: 0.45 }); // prettier-ignore
    const plan = planOf({ supplies: [supply('V', [a, b])], controls: [control('C', [a, b])], runs: [ring] });
    return {
      ...plan,
      areas: Table.of([areaOf('B', 'bed', 0, 0, 12, 6), areaOf('W', 'paving', 0, -1, 12, 0)]),
    };
  };
  expect(near(loop(0.02))).toEqual(['L']);
  expect(far(loop(0.35))).toEqual(['B']);
  expect([near(loop(0.1)), far(loop(0.1))]).toEqual([[], []]);
});
