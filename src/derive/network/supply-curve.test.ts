import { describe, expect, test } from 'vitest';
import { curveLoss, headToKpa, lphToM3s } from '../../hydraulics/index.ts';
import { blank, control, dripline, planOf, supply } from '../plan-for-tests.ts';
import { studyOf } from '../study.ts';
import { squareCurve, supplyCurve } from './supply-curve.ts';

const lossKpa = (curve: NonNullable<ReturnType<typeof supplyCurve>['curve']>, flowLph: number): number =>
  headToKpa(curveLoss(curve, lphToM3s(flowLph)));

describe('pressure of the water service against flow', () => {
  test('one working point: a power of 1.85 through it', () => {
    const { curve, unusable } = supplyCurve(400, [{ pressureKpa: 340, flowLph: 800 }]);
    expect(unusable).toEqual([]);
    expect(lossKpa(curve!, 800)).toBeCloseTo(60, 6);
    for (const share of [0.01, 0.1, 0.37, 0.5, 0.9, 1.3, 2, 3.7]) {
      expect(Math.abs(lossKpa(curve!, 800 * share) / (60 * share ** 1.85) - 1)).toBeLessThan(0.01);
    }
  });
  test('several points: through each of them, rising all the way', () => {
    const points = [
      { pressureKpa: 300, flowLph: 1500 },
      { pressureKpa: 390, flowLph: 400 },
      { pressureKpa: 350, flowLph: 900 },
    ];
    const { curve } = supplyCurve(400, points);
    for (const { pressureKpa, flowLph } of points) {
      expect(lossKpa(curve!, flowLph)).toBeCloseTo(400 - pressureKpa, 6);
    }
    let before = 0;
    for (let flow = 10; flow < 4000; flow += 10) {
      const loss = lossKpa(curve!, flow);
      expect(loss).toBeGreaterThan(before);
      before = loss;
    }
  });
  test('points that cannot be are given back, the others used', () => {
    const { curve, unusable } = supplyCurve(400, [
      { pressureKpa: 420, flowLph: 500 },
      { pressureKpa: 350, flowLph: 0 },
      { pressureKpa: 360, flowLph: 700 },
      { pressureKpa: 380, flowLph: 900 },
    ]);
    expect(unusable.map(({ flowLph }) => flowLph)).toEqual([0, 500, 900]);
    expect(lossKpa(curve!, 700)).toBeCloseTo(40, 6);
    expect(supplyCurve(400, []).curve).toBeNull();
  });
  test('a square law for filters', () => {
    for (const share of [0.05, 0.5, 1, 1.5, 3]) {
      expect(lossKpa(squareCurve(1000, 20), 1000 * share) / (20 * share ** 2)).toBeCloseTo(1, 9);
    }
  });
  test('in a plan the pressure at the valve falls as measured', () => {
    // 100 outlets that keep 8 L/h take the 800 L/h of the working point.
    const base = planOf({
      supplies: [supply('V', [0, 0], { pressureKpa: null })],
      controls: [control('C', [0, 0], { setKpa: 200 })],
      runs: [
        { ...blank('H', [0, 0], [0, 5]), tubing: 'blank-three-quarter' },
        ...[1, 2, 3, 4].map((k) =>
          dripline(
            `R${k}`,
            [
              [0, k],
              [10, k],
            ],
            {
              law: 'inline-pc',
              ratedFlowLph: 8,
              spacingM: 0.4,
              firstM: 0.2,
            },
          ),
        ),
      ],
    });
    const water = { ...base.water, staticKpa: 400, workingPoints: [{ pressureKpa: 340, flowLph: 800 }] };
    const { results } = studyOf({ ...base, water });
    expect(results.outletCount).toBe(100);
    expect(results.totalFlowLph).toBeCloseTo(800, 6);
    expect(results.zones[0]!.inletKpa).toBeCloseTo(340, 4);
  });
});
