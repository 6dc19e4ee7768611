import { describe, expect, test } from 'vitest';
import { nearestOnPath, pathLength } from '../../base/polyline.ts';
import type { Box, Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import type { Fall, Level } from '../../plan/records.ts';
import { contourThrough } from './contour-through.ts';
import { groundOf } from './index.ts';

const groundThrough = (...spots: (readonly [number, number, number])[]) =>
  groundOf({
    levels: Table.of(spots.map(([x, y, zM], i): Level => ({ id: `Z${i}`, at: [x, y], zM }))),
    falls: Table.of<Fall>(),
  });
const BOX: Box = { minX: -5, minY: -5, maxX: 15, maxY: 15 };

describe('the contour line through a place', () => {
  test('on a plane runs straight both ways, square to the fall', () => {
    const ground = groundThrough([0, 0, 0], [10, 0, 5], [0, 10, 0], [10, 10, 5]);
    const arms = contourThrough(ground, [4, 5], BOX)!;
    for (const arm of arms) {
      expect(arm[0]).toEqual([4, 5]);
      expect(arm.every(([x]) => Math.abs(x - 4) < 1e-6)).toBe(true);
    }
    const [ys, others] = arms.map((arm) => arm.at(-1)![1]);
    expect([ys, others].sort((a, b) => a! - b!)).toEqual([-5, 15]);
  });
  test('round a hill it comes back to the place', () => {
    const ground = groundThrough([0, 0, 0], [10, 0, 0], [10, 10, 0], [0, 10, 0], [5, 5, 4]);
    const at: Point = [5, 2.5];
    const [one, other] = contourThrough(ground, at, BOX)!;
    expect(one.at(-1)).toEqual(at);
    expect(other.at(-1)).toEqual(at);
    // Half way up the pyramid: a square of 5 m sides.
    expect(pathLength(one)).toBeCloseTo(20, 6);
    for (const p of one) expect(ground.heightAt(p).zM).toBeCloseTo(2, 6);
    expect(nearestOnPath(other, one[1]!).distance).toBeLessThan(1e-6);
  });
  test('none on level ground, on the very top, and where nothing is known', () => {
    expect(contourThrough(groundThrough(), [1, 1], BOX)).toBeNull();
    expect(contourThrough(groundThrough([0, 0, 3]), [1, 1], BOX)).toBeNull();
    expect(contourThrough(groundThrough([0, 0, 2], [10, 0, 2], [0, 10, 2]), [1, 1], BOX)).toBeNull();
    const hill = groundThrough([0, 0, 0], [10, 0, 0], [10, 10, 0], [0, 10, 0], [5, 5, 4]);
    expect(contourThrough(hill, [5, 5], BOX)).toBeNull();
    expect(contourThrough(hill, [NaN, 5], BOX)).toBeNull();
  });
});
