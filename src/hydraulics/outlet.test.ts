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

describe('outlet with a check', () => {
  const laws = [
    { ...plain, closingM: 2 },
    { ...plain, exponent: 1.5, closingM: 2 },
    { ...compensating, closingM: 2 },
    { ...compensating, closingM: 6.9 },
    { ...compensating, closingM: 6.999 },
  ];

  test('gives nothing up to its closing pressure, and its own law from a tenth above it', () => {
    for (const law of laws) {
      expect(outletFlow(law, law.closingM)).toBe(0);
      expect(outletFlow(law, 1)).toBe(0);
      const { closingM: _, ...open } = law;
      for (const h of [7, 7.5, 20]) expect(outletFlow(law, h)).toBe(outletFlow(open, h));
    }
    expect(outletFlow({ ...plain, closingM: 2 }, 2.2)).toBeCloseTo(outletFlow(plain, 2.2), 14);
    expect(outletFlow({ ...plain, closingM: 2 }, 2.1)).toBeLessThan(0.7 * outletFlow(plain, 2.1));
  });

  test('rises steadily, without corner', () => {
    for (const law of laws) {
      const step = 1e-6;
      let last = 0;
      let lastSlope = 0;
      for (let h = law.closingM - 0.01; h < 7.2; h += 1e-4) {
        const q = outletFlow(law, h);
        const slope = (outletFlow(law, h + step) - q) / step;
        expect(q).toBeGreaterThanOrEqual(last);
        // The steepest one opens within a millimetre.
        if (law.closingM < 6.99) expect(Math.abs(slope - lastSlope)).toBeLessThan(1.5);
        last = q;
        lastSlope = slope;
      }
    }
  });

  test('a closing pressure of NaN or zero changes nothing', () => {
    for (const closingM of [NaN, 0])
      for (const h of [0.001, 0.03, 1, 8]) {
        expect(outletFlow({ ...plain, closingM }, h)).toBe(outletFlow(plain, h));
      }
  });
});

describe('clogged outlet', () => {
  test('gives its open share at every pressure, and nothing when shut', () => {
    for (const law of [plain, compensating, { ...compensating, closingM: 2 }])
      for (const h of [0.01, 1, 2.1, 6.95, 9]) {
        expect(outletFlow({ ...law, openShare: 0.3 }, h)).toBeCloseTo(0.3 * outletFlow(law, h), 14);
        expect(outletFlow({ ...law, openShare: 1 }, h)).toBe(outletFlow(law, h));
        expect(outletFlow({ ...law, openShare: 0 }, h)).toBe(0);
      }
  });
});
