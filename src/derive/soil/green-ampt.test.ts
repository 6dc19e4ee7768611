import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  infiltrationMm,
  infiltrationRate,
  pondedInfiltrationMm,
  soakedAtPondingMm,
  soakIn,
  timeToPondingH,
  type WettingFront,
} from './index.ts';

const fronts = fc.record({
  conductivityMmPerH: fc.double({ min: 0.01, max: 200, noNaN: true }),
  suctionMm: fc.double({ min: 1, max: 400, noNaN: true }),
  moistureDeficit: fc.double({ min: 0.001, max: 0.5, noNaN: true }),
});
const hours = fc.double({ min: 1e-6, max: 100, noNaN: true });
const depth = fc.double({ min: 0, max: 500, noNaN: true });
const SETTINGS = { seed: 1911, numRuns: 1000 };

describe('under standing water', () => {
  test('the depth fulfils the equation, put in again', () => {
    fc.assert(
      fc.property(fronts, hours, depth, (front, t, before) => {
        const after = pondedInfiltrationMm(front, t, before);
        const suction = front.suctionMm * front.moistureDeficit;
        const gained = after - before;
        const time = (gained - suction * Math.log1p(gained / (before + suction))) / front.conductivityMmPerH;
        // Over a short time the left side is a small difference of large terms.
        const rounding = (1e-12 * (after + suction)) / front.conductivityMmPerH;
        expect(Math.abs(time - t)).toBeLessThanOrEqual(1e-6 * t + rounding);
      }),
      SETTINGS,
    );
  });
  test('two stretches of time soak in what one does', () => {
    fc.assert(
      fc.property(fronts, hours, hours, (front, a, b) => {
        const split = pondedInfiltrationMm(front, b, pondedInfiltrationMm(front, a));
        const whole = pondedInfiltrationMm(front, a + b);
        expect(Math.abs(split - whole)).toBeLessThanOrEqual(1e-6 * whole);
      }),
      SETTINGS,
    );
  });
  test('without suction or conductivity', () => {
    const dead: WettingFront = { conductivityMmPerH: 0, suctionMm: 100, moistureDeficit: 0.2 };
    expect(pondedInfiltrationMm(dead, 5, 3)).toBe(3);
    expect(infiltrationRate(dead, 0)).toBe(0);
    const full: WettingFront = { conductivityMmPerH: 4, suctionMm: 100, moistureDeficit: 0 };
    expect(pondedInfiltrationMm(full, 5)).toBe(20);
    expect(infiltrationRate(full, 0)).toBe(4);
    expect(timeToPondingH(full, 5)).toBe(0);
    expect(pondedInfiltrationMm({ ...full, moistureDeficit: 0.1 }, 0)).toBe(0);
    expect(infiltrationRate({ ...full, moistureDeficit: 0.1 }, 0)).toBe(Infinity);
  });
});

describe('at a rate', () => {
  test('a rate up to the conductivity never ponds; above it soil under water takes just the rate when it ponds', () => {
    fc.assert(
      fc.property(fronts, fc.double({ min: 0.01, max: 3, noNaN: true }), (front, share) => {
        const rate = front.conductivityMmPerH * share;
        const soaked = soakedAtPondingMm(front, rate);
        if (rate <= front.conductivityMmPerH) expect(soaked).toBeNull();
        else expect(infiltrationRate(front, soaked!) / rate).toBeCloseTo(1, 9);
      }),
      SETTINGS,
    );
  });
  test('nothing more soaks in than was applied, and one steady step is the steady formula', () => {
    fc.assert(
      fc.property(fronts, fc.double({ min: 0, max: 300, noNaN: true }), hours, (front, rate, t) => {
        const storm = soakIn(front, [{ hours: t, rateMmPerH: rate }]);
        expect(storm.soakedMm).toBeLessThanOrEqual(storm.appliedMm * (1 + 1e-9));
        expect(storm.soakedMm).toBeCloseTo(infiltrationMm(front, rate, t), 6);
        const pondsAt = timeToPondingH(front, rate);
        expect(storm.pondsAtH).toBe(pondsAt !== null && pondsAt < t ? pondsAt : null);
      }),
      SETTINGS,
    );
  });
  test('a step cut in two changes nothing, and a pause lets nothing run off', () => {
    const front: WettingFront = { conductivityMmPerH: 3.4, suctionMm: 88.9, moistureDeficit: 0.217 };
    const whole = soakIn(front, [{ hours: 0.4, rateMmPerH: 40 }]);
    const cut = soakIn(front, [
      { hours: 0.02, rateMmPerH: 40 },
      { hours: 0.38, rateMmPerH: 40 },
    ]);
    expect(cut.soakedMm).toBeCloseTo(whole.soakedMm, 9);
    expect(cut.pondsAtH).toBeCloseTo(whole.pondsAtH!, 12);
    expect(whole.excessMm).toBeGreaterThan(1);
    const gentle = soakIn(front, [
      { hours: 1, rateMmPerH: 3 },
      { hours: 2, rateMmPerH: 0 },
    ]);
    expect(gentle).toMatchObject({ excessMm: 0, pondsAtH: null });
    expect(soakIn(front, [])).toEqual({
      appliedMm: 0,
      soakedMm: 0,
      excessMm: 0,
      pondsAtH: null,
      soakedByStepMm: [],
    });
  });
});
