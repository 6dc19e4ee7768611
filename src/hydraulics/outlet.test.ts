import { describe, expect, test } from 'vitest';
import { NEAR_ZERO_M, outletCoefficient, outletFlow, BLEND_SHARE, type OutletLaw } from './outlet.ts';

const plain: OutletLaw = {
  coefficient: 2,
  exponent: 0.5,
  ratedM3s: NaN,
  rangeFromM: NaN,
  residualExponent: 0,
};
const compensating: OutletLaw = {
  coefficient: outletCoefficient(3, 7, 0.5),
  exponent: 0.5,
  ratedM3s: 3,
  rangeFromM: 7,
  residualExponent: 0.02,
};

describe('outlet', () => {
  test('follows its power law from 0.05 m', () => {
    for (const x of [0, 0.4, 0.5, 0.7, 1, 1.5]) {
      for (const h of [NEAR_ZERO_M, 1, 9])
        expect(outletFlow({ ...plain, exponent: x }, h)).toBeCloseTo(2 * h ** x, 12);
    }
  });

  test('never draws and gives nothing without pressure', () => {
    for (const law of [plain, compensating])
      for (const h of [0, -1, -100, NaN]) expect(outletFlow(law, h)).toBe(0);
  });

  test('rises steadily through all its pieces', () => {
    for (const law of [plain, compensating, { ...compensating, residualExponent: 0 }]) {
      let last = 0;
      for (let h = 0.001; h < 20; h += 0.001) {
        const q = outletFlow(law, h);
        expect(q).toBeGreaterThanOrEqual(last);
        expect(q - last).toBeLessThan(0.01);
        last = q;
      }
    }
  });

  test('gives its rated flow within 0.01 % where its range begins, and the residual law beyond', () => {
    expect(outletFlow(compensating, 7)).toBe(3);
    expect(outletFlow(compensating, 14)).toBeCloseTo(3 * 2 ** 0.02, 12);
  });

  test('follows the lower law up to the blend, which stays within a quarter percent of the sharp corner', () => {
    const start = 7 * (1 - BLEND_SHARE);
    expect(outletFlow(compensating, start)).toBeCloseTo(compensating.coefficient * Math.sqrt(start), 12);
    for (let h = start; h < 7; h += 0.001) {
      const sharp = compensating.coefficient * Math.sqrt(h);
      expect(Math.abs(outletFlow(compensating, h) / sharp - 1)).toBeLessThan(0.0025);
    }
  });

  test('a lower law that gives too much is brought down to the rated flow, one that gives less is kept', () => {
    const strong = { ...compensating, coefficient: 10 };
    expect(outletFlow(strong, 3.5)).toBeCloseTo(3 * Math.sqrt(0.5), 12);
    const weak = { ...compensating, coefficient: 0.9 * compensating.coefficient };
    expect(outletFlow(weak, 3.5)).toBeCloseTo(0.9 * 3 * Math.sqrt(0.5), 12);
    let last = 0;
    for (let h = 0.001; h < 9; h += 0.001) {
      const q = outletFlow(weak, h);
      expect(q).toBeGreaterThanOrEqual(last);
      last = q;
    }
  });
});
