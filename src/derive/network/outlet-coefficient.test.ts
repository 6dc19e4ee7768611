import { expect, test } from 'vitest';
import { outletLawById } from '../../catalog/index.ts';
import { kpaToHead, m3sToLph } from '../../hydraulics/index.ts';
import { coefficientOf } from './outlet-coefficient.ts';

const flow = (id: string, waterC: number) => {
  const law = outletLawById(id)!;
  return m3sToLph(coefficientOf(law, 4, waterC) * kpaToHead(law.ratedKpa) ** law.exponent);
};

test('every outlet gives its rated flow at its rated pressure and 20 degrees', () => {
  for (const id of ['point-plain', 'point-long-path', 'inline-plain']) expect(flow(id, 20)).toBeCloseTo(4, 9);
});

test('a long path gives a quarter more at 30 degrees than at 20, a turbulent one the same', () => {
  // Viscosities of the Hydraulic Institute data book: 10.032e-7 and 8.007e-7 m2/s, +25.3 %.
  expect(flow('point-long-path', 30) / 4).toBeCloseTo(1.253, 3);
  expect(flow('point-long-path', 10) / 4).toBeCloseTo(10.032 / 13.061, 3);
  expect(flow('point-plain', 30)).toBeCloseTo(4, 9);
});
