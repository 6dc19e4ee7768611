import { expect, test } from 'vitest';
import { FOOT_M, GPM_LPH } from '../base/units.ts';
import { SPRAY_FLOWS, usualSprayFlow } from './sprays.ts';

const gpm = (radiusFt: number, sweepDeg: number) => {
  const usual = usualSprayFlow(radiusFt * FOOT_M, sweepDeg);
  return usual && usual.flowLph / GPM_LPH;
};

// The figures that the surveys of sites carry: common practice, from memory.
test.each([
  [10, 360, 1.58],
  [12, 360, 2.6],
  [15, 360, 3.7],
  [12, 180, 1.3],
  [12, 90, 0.65],
  [10, 120, 0.527],
  [11, 360, 2.09],
])('%s ft over %s degrees gives %s gpm', (radiusFt, sweepDeg, wanted) => {
  expect(gpm(radiusFt, sweepDeg)).toBeCloseTo(wanted, 3);
});

test.each([
  [8.9, 360],
  [16.1, 360],
  [12, 0],
  [NaN, 90],
])('%s ft over %s degrees is not guessed', (radiusFt, sweepDeg) => {
  expect(gpm(radiusFt, sweepDeg)).toBeNull();
});

test('flows rise with the radius and each names its source', () => {
  SPRAY_FLOWS.forEach((entry, i) => {
    expect(entry.source).toContain('common practice');
    if (i > 0) expect(entry.flowLph).toBeGreaterThan(SPRAY_FLOWS[i - 1]!.flowLph);
  });
});
