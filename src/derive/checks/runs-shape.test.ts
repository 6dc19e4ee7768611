import { describe, expect, test } from 'vitest';
import type { Point } from '../../base/point.ts';
import { blank, dripline, planOf } from '../plan-for-tests.ts';
import type { Plan } from '../../plan/records.ts';
import type { PlanNetwork, Results } from '../results.ts';
import { bendTight } from './bends.ts';
import { limitOf, type Rule } from './check.ts';
import { runsCross } from './runs-cross.ts';

const found = (rule: Rule, plan: Plan) =>
  rule.check({
    plan,
    planNetwork: {} as PlanNetwork,
    results: {} as Results,
    units: 'us',
    limit: limitOf(plan),
  });

describe('bends that are too tight', () => {
  const turn = (gap: number): Point[] => [
    [0, 0],
    [5, 0],
    [5, gap],
    [0, gap],
  ];
  test('dripline turns with 16 in between its rows, not with 15', () => {
    expect(found(bendTight, planOf({ runs: [dripline('R', turn(0.41))] }))).toEqual([]);
    const [notice] = found(bendTight, planOf({ runs: [dripline('R', turn(0.38))] }));
    expect(notice).toMatchObject({ rule: 'bend-tight', refs: [{ table: 'runs', id: 'R' }] });
    expect(notice!.message).toContain('2 bends');
    expect(notice!.places).toEqual([
      [5, 0],
      [5, 0.38],
    ]);
  });
  test('tubing of half an inch turns tighter than dripline', () => {
    expect(found(bendTight, planOf({ runs: [blank('R', ...turn(0.38))] }))).toEqual([]);
    expect(found(bendTight, planOf({ runs: [blank('R', ...turn(0.3))] }))).toHaveLength(1);
  });
  test('where another run joins there is a fitting', () => {
    const header = blank('H', [5, -1], [5, 3]);
    expect(found(bendTight, planOf({ runs: [dripline('R', turn(0.38)), header] }))).toEqual([]);
  });
  test('a corner beside a joint lies in its fitting, and so does one beside the place where a ring closes', () => {
    const header = (x: number) => blank('H', [x, -1], [x, -0.0001]);
    const kinked = dripline('R', [
      [0, 0],
      [5, 0],
      [5, 0.1],
    ]);
    expect(found(bendTight, planOf({ runs: [kinked, header(4.96)] }))).toEqual([]);
    expect(found(bendTight, planOf({ runs: [kinked, header(4.9)] }))).toHaveLength(1);
    const ring = (from: number): Point[] =>
      [from, ...Array.from({ length: 24 }, (_, k) => k + 0.5), from + 24].map((k): Point => [
        Math.cos((k * Math.PI) / 12),
        Math.sin((k * Math.PI) / 12),
      ]);
    // It opens 1 cm from a corner; open it is no ring, and the same corner has no room.
    expect(found(bendTight, planOf({ runs: [dripline('R', ring(0.46))] }))).toEqual([]);
    expect(found(bendTight, planOf({ runs: [dripline('R', ring(0.46).slice(0, -3))] }))).toHaveLength(1);
  });
  test('the plan may have a limit of its own', () => {
    const plan = planOf({ runs: [dripline('R', turn(0.38))] });
    const own = { ...plan, checks: { ...plan.checks, limits: { 'bend-tight.dripline': 0.15 } } };
    expect(found(bendTight, own)).toEqual([]);
  });
});

describe('runs that cross', () => {
  const row = blank('A', [0, 0], [4, 0]);
  test('in their middles are told with both names', () => {
    const [notice] = found(runsCross, planOf({ runs: [row, blank('B', [2, -1], [2, 1])] }));
    expect(notice).toMatchObject({ rule: 'runs-cross', severity: 'warning' });
    expect(notice!.refs.map(({ id }) => id)).toEqual(['A', 'B']);
    expect(notice!.places).toEqual([[2, 0]]);
  });
  test('at a corner are joined', () => {
    expect(found(runsCross, planOf({ runs: [row, blank('B', [2, -1], [2, 0], [2, 1])] }))).toEqual([]);
  });
  test('a run that crosses itself', () => {
    const loop = blank('A', [0, 0], [4, 0], [4, 2], [2, 2], [2, -2]);
    const [notice] = found(runsCross, planOf({ runs: [loop] }));
    expect(notice!.message).toContain('crosses itself');
  });
});
