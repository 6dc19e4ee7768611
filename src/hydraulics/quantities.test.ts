import { describe, expect, test } from 'vitest';
import { cu, designEu, dulq, flowVariation, statisticalUniformity } from './uniformity.ts';
import { headToKpa, kpaToHead, lphToM3s, m3sToLph } from './units.ts';
import { viscosity } from './water.ts';

describe('conversions', () => {
  test('go there and back', () => {
    expect(kpaToHead(9.80665)).toBe(1);
    expect(headToKpa(kpaToHead(123.4))).toBeCloseTo(123.4, 12);
    expect(lphToM3s(3600)).toBeCloseTo(1e-3, 18);
    expect(m3sToLph(lphToM3s(2.3))).toBeCloseTo(2.3, 14);
  });
});

describe('viscosity of water', () => {
  test('falls with temperature and stays at its ends outside the table', () => {
    for (let t = 0; t < 40; t++) expect(viscosity(t + 1)).toBeLessThan(viscosity(t));
    expect(viscosity(-5)).toBe(viscosity(0));
    expect(viscosity(90)).toBe(viscosity(40));
    expect(viscosity(NaN)).toBeCloseTo(viscosity(20), 15);
  });

  test('between the points of the table is near the usual figures (15 °C 1.139e-6, 25 °C 0.893e-6; from memory)', () => {
    expect(viscosity(15) / 1.139e-6).toBeCloseTo(1, 2);
    expect(viscosity(25) / 0.893e-6).toBeCloseTo(1, 2);
  });
});

describe('uniformity', () => {
  test('of equal flows is whole', () => {
    const flows = new Float64Array(7).fill(2);
    expect([cu(flows), dulq(flows), flowVariation(flows), statisticalUniformity(flows)]).toEqual([
      100, 100, 0, 100,
    ]);
  });

  test('does not depend on order or unit', () => {
    const flows = [3, 1, 2, 5, 4, 2.5];
    const other = [...flows].reverse().map((q) => q * 3.6);
    for (const figure of [cu, dulq, flowVariation]) expect(figure(other)).toBeCloseTo(figure(flows), 12);
  });

  test('takes a fraction of an outlet into the low quarter where it is not whole', () => {
    // 6 outlets: the low quarter is 1.5 outlets, 1 and half of 2.
    expect(dulq([1, 2, 3, 4, 5, 6])).toBeCloseTo((100 * (1 + 0.5 * 2)) / 1.5 / 3.5, 12);
  });

  test('of nothing is not a number; a coefficient in percent is refused', () => {
    expect(dulq([])).toBeNaN();
    expect(cu([0, 0])).toBeNaN();
    expect(() => designEu(5, 1, 0.9)).toThrow(/fraction from 0 to 1/);
    expect(() => designEu(0.05, 0, 0.9)).toThrow(/1 or more/);
  });
});
