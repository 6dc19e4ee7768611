import { describe, expect, test } from 'vitest';
import { outletLawById } from '../../catalog/index.ts';
import { flowVariation } from '../../hydraulics/index.ts';
import { control, dripline, planOf, PSI, supply } from '../plan-for-tests.ts';
import { studyOf } from '../study.ts';
import { longestRun, type LongestRunAsk } from './longest-run.ts';
import { solveLateral } from './single-lateral.ts';

const usual: LongestRunAsk = {
  tubing: 'inline-17',
  law: 'inline-plain',
  ratedFlowLph: 2.3,
  spacingM: 0.3,
  inletKpa: 20 * PSI,
  slopePercent: 0,
  limit: 'min-pressure',
};

/** Every number of outlets tried in turn; the largest that keeps the limit. */
function byTrying(ask: LongestRunAsk, upTo: number): number {
  const law = outletLawById(ask.law)!;
  let best = 0;
  for (let n = 1; n <= upTo; n++) {
    const { pressureKpa, flowLph } = solveLateral(
      { ...ask, innerDiameterMm: ask.tubing === 'inline-17' ? 14.2 : 4.3, law, waterC: 20 },
      n,
    );
    const fits =
      pressureKpa.every((kpa) => kpa >= law.minKpa && kpa <= law.maxKpa) &&
      (ask.limit === 'min-pressure' || flowVariation(flowLph) <= 10);
    if (fits) best = n;
  }
  return best;
}

describe('the longest run', () => {
  test.each<Partial<LongestRunAsk>>([
    {},
    { law: 'inline-pc' },
    { law: 'inline-pc', ratedFlowLph: 3.4, spacingM: 0.45 },
    { limit: 'flow-variation-10' },
    { slopePercent: 3 },
    { slopePercent: -2, limit: 'flow-variation-10' },
    { slopePercent: -6 },
    { slopePercent: -6, inletKpa: 26 * PSI },
    { slopePercent: 5, law: 'inline-pc', inletKpa: 12 * PSI },
    { tubing: 'inline-quarter', ratedFlowLph: 2, spacingM: 0.15 },
  ])('is that found by trying every length: %j', (more) => {
    const ask = { ...usual, ...more };
    const found = longestRun(ask);
    expect(found.outlets).toBeGreaterThan(0);
    expect(found.outlets).toBe(byTrying(ask, Math.max(400, found.outlets + 50)));
    expect(found.lengthM).toBeCloseTo(found.outlets * ask.spacingM, 9);
  });
  test('is the run that the plan itself finds at its limit', () => {
    const { outlets, lengthM, lowestKpa } = longestRun({ ...usual, inletKpa: 25 * PSI });
    const lowest = (count: number): number => {
      const plan = planOf({
        supplies: [supply('V', [0, 0])],
        controls: [control('C', [0, 0])],
        runs: [
          dripline(
            'R',
            [
              [0, 0],
              [0.3 * count, 0],
            ],
            { firstM: 0.3 },
          ),
        ],
      });
      return studyOf(plan).results.lowestKpa;
    };
    expect(lengthM).toBeCloseTo(0.3 * outlets, 9);
    expect(lowest(outlets)).toBeCloseTo(lowestKpa, 3);
    expect(lowest(outlets)).toBeGreaterThanOrEqual(8 * PSI);
    expect(lowest(outlets + 1)).toBeLessThan(8 * PSI);
  });
  test('what stops it is said', () => {
    expect(longestRun(usual).stoppedBy).toBe('pressure too low');
    expect(longestRun({ ...usual, limit: 'flow-variation-10' }).stoppedBy).toBe('flow variation');
    expect(longestRun({ ...usual, inletKpa: 5 * PSI })).toMatchObject({
      outlets: 0,
      stoppedBy: 'pressure too low',
    });
    // Emitters of this kind may have 30 psi at most.
    expect(longestRun({ ...usual, inletKpa: 60 * PSI })).toMatchObject({
      outlets: 0,
      stoppedBy: 'pressure too high',
    });
  });
  test('downhill the lowest pressure may lie inside the run', () => {
    const ask = { ...usual, slopePercent: -2 };
    const { outlets, lowestKpa } = longestRun(ask);
    const law = outletLawById('inline-plain')!;
    const { pressureKpa } = solveLateral({ ...ask, innerDiameterMm: 14.2, law, waterC: 20 }, outlets);
    expect(lowestKpa).toBeLessThan(pressureKpa.at(-1)!);
  });
  test('more slope up, more flow or less pressure make it shorter; values that make no sense give none', () => {
    const length = (more: Partial<LongestRunAsk>): number => longestRun({ ...usual, ...more }).lengthM;
    expect(length({ slopePercent: 4 })).toBeLessThan(length({}));
    expect(length({ ratedFlowLph: 4 })).toBeLessThan(length({}));
    expect(length({ inletKpa: 15 * PSI })).toBeLessThan(length({}));
    for (const more of [
      { spacingM: 0 },
      { inletKpa: NaN },
      { ratedFlowLph: -1 },
      { slopePercent: Infinity },
    ]) {
      expect(longestRun({ ...usual, ...more })).toMatchObject({ outlets: 0, stoppedBy: 'input' });
    }
  });
});
