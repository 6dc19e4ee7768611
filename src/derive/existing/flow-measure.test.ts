import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bucketFlowLph, gaugeFlowLph, meterFlowLph } from './flow-measure.ts';

const GAL = 3.785411784;
const GPM = 60 * GAL;
const FT3 = 28.316846592;
const PSI = 6.894757293168361;

test('bucket: gpm = 60 gal / s', () => {
  // NCAT/ATTRA 2006: 5 gal in 40 s are 7.5 gpm.
  expect(bucketFlowLph(5 * GAL, 40)! / GPM).toBeCloseTo(7.5, 12);
  expect(bucketFlowLph(0, 40)).toBeNull();
  expect(bucketFlowLph(5, 0)).toBeNull();
  expect(bucketFlowLph(NaN, 10)).toBeNull();
});

test('meter: readings in gallons and cubic feet', () => {
  expect(meterFlowLph(1000 * GAL, 1016 * GAL, 5)! / GPM).toBeCloseTo(3.2, 9);
  // 1 ft3 is 7.480519 gal.
  expect(meterFlowLph(2 * FT3, 4 * FT3, 4)! / GPM).toBeCloseTo((2 * 7.480519480519481) / 4, 9);
  expect(meterFlowLph(10, 10, 5)).toBeNull();
  expect(meterFlowLph(10, 5, 5)).toBeNull();
  expect(meterFlowLph(5, 10, -1)).toBeNull();
});

describe('gauge', () => {
  const points = [
    { pressureKpa: 57 * PSI, flowLph: 3.2 * GPM },
    { pressureKpa: 40 * PSI, flowLph: 8 * GPM },
  ];
  const at = (psi: number) => gaugeFlowLph(62 * PSI, points, psi * PSI);
  test('gives the measured points back', () => {
    expect(at(57)! / GPM).toBeCloseTo(3.2, 6);
    expect(at(40)! / GPM).toBeCloseTo(8, 6);
  });
  test('by the power 1.85 before the first and past the last point', () => {
    expect(at(61)! / GPM).toBeCloseTo(3.2 * (1 / 5) ** (1 / 1.85), 2);
    expect(at(20)! / GPM).toBeCloseTo(8 * (42 / 22) ** (1 / 1.85), 2);
    // Far past four times the last flow, where the drawn curve ends.
    const one = gaugeFlowLph(100, [{ pressureKpa: 99, flowLph: 10 }], 10);
    expect(one).toBeCloseTo(10 * 90 ** (1 / 1.85), 2);
  });
  test('nothing without a point, or where the gauge does not fall', () => {
    expect(gaugeFlowLph(62 * PSI, [], 50 * PSI)).toBeNull();
    expect(at(62)).toBeNull();
    expect(at(70)).toBeNull();
  });
  test('flow grows as the gauge falls', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 61.9, noNaN: true }),
        fc.double({ min: 0.001, max: 0.9, noNaN: true }),
        (psi, step) => {
          expect(at(psi * (1 - step))!).toBeGreaterThan(at(psi)!);
        },
      ),
      { seed: 7, numRuns: 200 },
    );
  });
});
