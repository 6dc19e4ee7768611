import { describe, expect, test } from 'vitest';
import { curveLoss, evaluateCurve, faultOfCurve, readyCurve } from './curve.ts';

const curve = (points: readonly (readonly [number, number])[]) => ({
  flowM3s: Float64Array.from(points, (p) => p[0]),
  lossM: Float64Array.from(points, (p) => p[1]),
});
const square = curve([
  [0, 0],
  [1, 1],
  [2, 4],
  [4, 16],
]);

describe('loss curve', () => {
  test('passes through its points, with or without the origin, and turns with the flow', () => {
    for (const c of [
      square,
      curve([
        [1, 1],
        [2, 4],
        [4, 16],
      ]),
    ]) {
      for (const [q, h] of [
        [0, 0],
        [1, 1],
        [2, 4],
        [4, 16],
      ] as const) {
        expect(curveLoss(c, q)).toBeCloseTo(h, 12);
        expect(curveLoss(c, -q)).toBeCloseTo(-h, 12);
      }
    }
  });

  test('goes on as a power law beyond its last point', () => {
    expect(curveLoss(square, 8)).toBeCloseTo(64, 10);
    expect(curveLoss(curve([[3, 2]]), 6)).toBeCloseTo(8, 12);
    expect(curveLoss(curve([[3, 2]]), 1.5)).toBeCloseTo(0.5, 12);
  });

  test('rises throughout, even with flat and steep pieces, and has the slope that differences show', () => {
    const out = new Float64Array(2);
    for (const c of [
      square,
      curve([
        [1, 3],
        [2, 3],
        [2.1, 9],
        [8, 9.1],
      ]),
      curve([
        [1, 0],
        [2, 5],
      ]),
    ]) {
      const ready = readyCurve(c);
      let last = 0;
      for (let q = 0.001; q < 12; q += 0.001) {
        evaluateCurve(ready, q, out);
        const [h, slope] = [out[0]!, out[1]!];
        expect(h).toBeGreaterThanOrEqual(last - 1e-12);
        expect(slope).toBeGreaterThanOrEqual(0);
        last = h;
        evaluateCurve(ready, q + 1e-7, out);
        expect(Math.abs((out[0]! - h) / 1e-7 - slope)).toBeLessThan(1e-2 + 1e-3 * slope);
      }
    }
  });

  test('with a loss at zero flow is one that has to be opened', () => {
    const opening = curve([
      [0, 2],
      [1, 3],
      [2, 6],
    ]);
    expect(faultOfCurve(opening)).toBeNull();
    expect(readyCurve(opening).openingM).toBe(2);
    expect(curveLoss(opening, 1)).toBeCloseTo(3, 12);
    expect(curveLoss(opening, -2)).toBeCloseTo(-6, 12);
    expect(curveLoss(opening, 0)).toBe(0);
  });

  test('with a fault is named', () => {
    expect(faultOfCurve(square)).toBeNull();
    expect(faultOfCurve(curve([]))).toMatch(/no point/);
    expect(faultOfCurve(curve([[0, 0]]))).toMatch(/no point/);
    expect(
      faultOfCurve(
        curve([
          [1, 2],
          [2, 1],
        ]),
      ),
    ).toMatch(/falls in loss at point 1/);
    expect(
      faultOfCurve(
        curve([
          [1, 2],
          [1, 3],
          [2, 4],
        ]),
      ),
    ).toMatch(/does not rise/);
    expect(
      faultOfCurve(
        curve([
          [NaN, 2],
          [2, 3],
        ]),
      ),
    ).toMatch(/not a number/);
    expect(faultOfCurve({ flowM3s: Float64Array.of(1), lossM: Float64Array.of(1, 2) })).toMatch(
      /different number/,
    );
  });
});
