import { describe, expect, test } from 'vitest';
import type { Point } from '../base/point.ts';
import { snapPoint, type SnapTargets } from './snap.ts';

const EDGE: readonly [Point, Point] = [
  [0, 0],
  [4, 0],
];
const targets: SnapTargets = { points: [...EDGE], reasons: ['corner', 'end'], edges: [EDGE] };
const NONE: SnapTargets = { points: [], edges: [] };
const toleranceM = 0.1;
const reason = (at: Point, more: object = {}, on = targets) =>
  snapPoint(on, at, { toleranceM, ...more }).reason;

describe('why a place was caught', () => {
  test('corners, ends, middles and edges', () => {
    expect(reason([0.05, 0.05])).toBe('corner');
    expect(reason([3.95, 0])).toBe('end');
    expect(snapPoint(targets, [2.03, 0.02], { toleranceM })).toMatchObject({ at: [2, 0], reason: 'middle' });
    // Farther off than half the reach the edge itself can be had.
    expect(reason([2.08, 0.02])).toBe('edge');
    expect(reason([1, 0.05])).toBe('edge');
    expect(reason([1, 0.5])).toBeUndefined();
  });
  test('directions from the last corner', () => {
    const drawn = { from: [10, 10] as Point, before: [9, 9] as Point };
    expect(reason([12, 10.05], drawn, NONE)).toBe('level');
    expect(reason([10.05, 12], drawn, NONE)).toBe('upright');
    expect(reason([12, 12.05], drawn, NONE)).toBe('straight on');
    expect(reason([9, 11.05], drawn, NONE)).toBe('square');
  });
  test('the fourth corner of a rectangle stays in line with the first', () => {
    const points: Point[] = [
      [0, 0],
      [3, 0],
    ];
    const request = { from: [3, 2] as Point, before: [3, 0] as Point, extra: points, drawn: points };
    const { at, ...how } = snapPoint(NONE, [0.06, 2.05], { toleranceM, ...request });
    expect(at[0]).toBeCloseTo(0, 9);
    expect(at[1]).toBeCloseTo(2, 9);
    expect(how).toMatchObject({ kind: 'square', reason: 'in line' });
    expect(reason([0.04, 3.5], request, NONE)).toBe('in line');
    expect(reason([0.05, 0.05], request, NONE)).toBe('drawn');
    // Places that only may be caught on draw no lines.
    expect(reason([0.04, 3.5], { ...request, drawn: [] }, NONE)).toBeUndefined();
  });
});
