import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { networkOf } from './samples/build.ts';
import {
  frictionFactor,
  frictionFactorSlope,
  hazenWilliamsFactor,
  hazenWilliamsLoss,
  headLoss,
  reynolds,
  transitionCubic,
  turbulentFactor,
  turbulentFactorSlope,
  velocity,
} from './friction.ts';
import { GRAVITY_MS2 } from './units.ts';
import { PipeSizes } from './pipe-sizes.ts';

const SEED = 4711;
const NU = 1.0032e-6;
const re = fc.double({ min: 10, max: 2e5, noNaN: true });
const roughness = fc.constantFrom(0, 1e-6, 1e-4, 1e-2);

describe('Hazen and Williams as a factor of friction', () => {
  const [boreM, c, nu] = [0.0266, 145, 1.004e-6] as const;
  const law = -hazenWilliamsFactor(boreM, c, nu);
  test('loses what the formula says, at any flow above the transition', () => {
    for (const flowM3s of [1e-4, 3e-4, 1e-3]) {
      const re = reynolds(flowM3s, boreM, nu);
      const lossM = (turbulentFactor(re, law) / boreM) * (velocity(flowM3s, boreM) ** 2 / (2 * GRAVITY_MS2));
      expect(lossM / hazenWilliamsLoss(flowM3s, 1, boreM, c)).toBeCloseTo(1, 10);
    }
  });
  test('meets laminar flow and itself without step or corner', () => {
    const [c0, c1, c2, c3] = transitionCubic(law);
    const f = (r: number) => c0 + r * (c1 + r * (c2 + r * c3));
    const slope = (r: number) => (c1 + r * (2 * c2 + r * 3 * c3)) / 2000;
    expect(f(1)).toBeCloseTo(64 / 2000, 12);
    expect(slope(1)).toBeCloseTo(-64 / 2000 ** 2, 12);
    expect(f(2)).toBeCloseTo(turbulentFactor(4000, law), 12);
    expect(slope(2)).toBeCloseTo(turbulentFactorSlope(4000, law), 12);
    for (let r = 1; r <= 2; r += 0.01) expect(f(r) * r * r).toBeGreaterThan(f(r - 0.01) * (r - 0.01) ** 2);
  });
});

describe('friction factor', () => {
  test('has the slope that differences show', () => {
    fc.assert(
      fc.property(re, roughness, (x, e) => {
        const step = x * 1e-6;
        const difference = (frictionFactor(x + step, e) - frictionFactor(x - step, e)) / (2 * step);
        expect(Math.abs(frictionFactorSlope(x, e) - difference)).toBeLessThan(
          1e-4 * Math.abs(difference) + 1e-12,
        );
      }),
      { seed: SEED },
    );
  });

  test('joins at 2000 and 4000 in value and slope, for any roughness', () => {
    for (const e of [0, 1e-6, 1e-4, 1e-2, 0.05]) {
      for (const edge of [2000, 4000]) {
        const [below, above] = [edge - 1e-7, edge + 1e-7];
        expect(frictionFactor(above, e)).toBeCloseTo(frictionFactor(below, e), 9);
        expect(frictionFactorSlope(above, e) / frictionFactorSlope(below, e)).toBeCloseTo(1, 4);
      }
    }
  });

  test('without flow is endless', () => {
    expect(frictionFactor(0, 0)).toBe(Infinity);
  });
});

describe('head loss', () => {
  const pipe = { lengthM: 3, boreM: 0.0138, roughnessM: 1.5e-6, lossK: 2 };

  test('turns with the flow and is none without', () => {
    expect(headLoss(pipe, -1e-4, NU)).toBe(-headLoss(pipe, 1e-4, NU));
    expect(headLoss(pipe, 0, NU)).toBe(0);
    expect(hazenWilliamsLoss(-1e-4, 3, 0.02, 150)).toBe(-hazenWilliamsLoss(1e-4, 3, 0.02, 150));
  });

  test('rises with flow throughout, so that each loss belongs to one flow', () => {
    let last = 0;
    for (let flow = 1e-7; flow < 1e-3; flow *= 1.01) {
      const loss = headLoss(pipe, flow, NU);
      expect(loss).toBeGreaterThan(last);
      last = loss;
    }
  });

  test('is the same from the table of pipe sizes, and so is its slope', () => {
    const network = networkOf({
      nodes: [{ id: 'S', fixedHeadM: 1 }, { id: 'A' }],
      links: [
        { from: 'S', to: 'A', lengthM: 2, extraM: 1, boreMm: 13.8, roughnessMm: 0.0015, lossK: 2 },
        { from: 'S', to: 'A', lengthM: 3, boreMm: 4.3, roughnessMm: 0 },
        { from: 'S', to: 'A', lengthM: 3, boreMm: 13.8, roughnessMm: 0.1 },
      ],
    });
    const sizes = new PipeSizes(3);
    sizes.read(network.links, Int32Array.of(0, 1, 2), NU);
    const out = new Float64Array(2);
    for (let l = 0; l < 3; l++) {
      const { lengthM, extraLengthM, boreM, roughnessM, lossK } = network.links;
      const one = {
        lengthM: lengthM[l]! + extraLengthM[l]!,
        boreM: boreM[l]!,
        roughnessM: roughnessM[l]!,
        lossK: lossK[l]!,
      };
      for (let flow = -1e-3; flow <= 1e-3; flow += 1.7e-6) {
        sizes.lossAt(l, flow, out);
        expect(Math.abs(out[0]! - headLoss(one, flow, NU))).toBeLessThanOrEqual(1e-9 * Math.abs(out[0]!));
        const step = Math.max(Math.abs(flow) * 1e-6, 1e-12);
        const difference = (headLoss(one, flow + step, NU) - headLoss(one, flow - step, NU)) / (2 * step);
        expect(Math.abs(out[1]! / difference - 1)).toBeLessThan(1e-4);
      }
    }
  });
});
