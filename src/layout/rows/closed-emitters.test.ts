import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { countsOnClosed, firstOnClosed } from './closed-emitters.ts';
import { emittersOn } from './figures.ts';

const holding = (lengthM: number, spacingM: number, firstM: number): number =>
  emittersOn(lengthM, { inline: { law: 'inline-pc', ratedFlowLph: 2, spacingM, firstM } });

describe('emitters on closed runs', () => {
  test('the whole length over the spacing, what is left over where least is lacking', () => {
    expect(countsOnClosed([10, 20, 30], 1)).toEqual([10, 20, 30]);
    expect(countsOnClosed([10.4, 20.9, 30.8], 1)).toEqual([10, 21, 31]);
    expect(countsOnClosed([10.4, 20.4], 1)).toEqual([10, 20]);
    expect(countsOnClosed([0.3, 0.3], 1)).toEqual([1, 1]);
    expect(countsOnClosed([], 1)).toEqual([]);
  });

  test('each run holds its count, and all of them the whole', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 1, max: 80, noNaN: true }), { minLength: 1, maxLength: 8 }),
        fc.double({ min: 0.1, max: 1, noNaN: true }),
        (lengthsM, spacingM) => {
          const counts = countsOnClosed(lengthsM, spacingM);
          const whole = lengthsM.reduce((sum, lengthM) => sum + lengthM, 0) / spacingM;
          expect(counts.reduce((sum, count) => sum + count, 0)).toBe(Math.floor(whole + 1e-9));
          lengthsM.forEach((lengthM, i) => {
            const firstM = firstOnClosed(lengthM, spacingM, counts[i]);
            expect(firstM).toBeGreaterThanOrEqual(-1e-9);
            expect(holding(lengthM, spacingM, Math.max(0, firstM))).toBe(counts[i]);
            expect(Math.abs(counts[i]! - lengthM / spacingM)).toBeLessThan(1 + 1e-6);
          });
        },
      ),
      { seed: 41, numRuns: 300 },
    );
  });

  test('alone, a run holds its length over the spacing, rounded', () => {
    expect(holding(10.6, 1, firstOnClosed(10.6, 1))).toBe(11);
    expect(holding(10.4, 1, firstOnClosed(10.4, 1))).toBe(10);
  });
});
