import { describe, expect, test } from 'vitest';
import { snapPoint, type SnapTargets } from './snap.ts';

const targets: SnapTargets = {
  points: [
    [0, 0],
    [10, 0],
  ],
  edges: [
    [
      [0, 0],
      [10, 0],
    ],
    [
      [6, -5],
      [6, 5],
    ],
  ],
};
const toleranceM = 0.3;

describe('what the pointer catches on', () => {
  test('a vertex comes before an edge', () => {
    expect(snapPoint(targets, [0.1, 0.1], { toleranceM })).toMatchObject({ at: [0, 0], kind: 'vertex' });
  });
  test('an edge catches at the nearest point', () => {
    expect(snapPoint(targets, [3, 0.2], { toleranceM })).toMatchObject({ at: [3, 0], kind: 'edge' });
  });
  test('out of reach nothing is caught', () => {
    expect(snapPoint(targets, [3, 2], { toleranceM })).toEqual({ at: [3, 2], kind: 'free', guide: null });
  });
  test('a right angle to the axes', () => {
    const snap = snapPoint(targets, [8.9, 3.1], { toleranceM, from: [2, 3] });
    expect(snap.kind).toBe('square');
    expect(snap.at[0]).toBeCloseTo(8.9);
    expect(snap.at[1]).toBeCloseTo(3);
  });
  test('a right angle to the edge drawn last, on a slant', () => {
    const snap = snapPoint({ points: [], edges: [] }, [0.1, 2.05], {
      toleranceM,
      from: [1, 1],
      before: [0, 0],
    });
    expect(snap.kind).toBe('square');
    expect(snap.at[0] - 1).toBeCloseTo(-(snap.at[1] - 1));
  });
  test('where a right angle meets an edge both are kept', () => {
    const snap = snapPoint(targets, [6.1, 2.1], { toleranceM, from: [2, 2] });
    expect(snap.kind).toBe('square');
    expect(snap.at[0]).toBeCloseTo(6);
    expect(snap.at[1]).toBeCloseTo(2);
  });
  test('an excepted place is passed over', () => {
    expect(snapPoint(targets, [10.1, 0.1], { toleranceM, except: [[10, 0]] }).at).not.toEqual([10, 0]);
  });
});
