import { describe, expect, test } from 'vitest';
import { between, boxOf, directionDeg, distance, polar, shifted } from './point.ts';

describe('points', () => {
  test('distance and share of the way', () => {
    expect(distance([1, 1], [4, 5])).toBe(5);
    expect(between([0, 0], [10, 20], 0.25)).toEqual([2.5, 5]);
    expect(shifted([1, 2], -1, 3)).toEqual([0, 5]);
  });

  test('directions run counter-clockwise from east', () => {
    expect(directionDeg([0, 0], [5, 0])).toBe(0);
    expect(directionDeg([0, 0], [0, 5])).toBe(90);
    expect(directionDeg([0, 0], [-5, 0])).toBe(180);
    expect(directionDeg([0, 0], [0, -5])).toBe(-90);
    const [x, y] = polar([1, 1], 2, 90);
    expect(x).toBeCloseTo(1, 12);
    expect(y).toBeCloseTo(3, 12);
  });

  test('the box around points; none around nothing', () => {
    expect(
      boxOf([
        [3, -1],
        [0, 4],
        [2, 2],
      ]),
    ).toEqual({ minX: 0, minY: -1, maxX: 3, maxY: 4 });
    expect(boxOf([])).toBeNull();
  });
});
