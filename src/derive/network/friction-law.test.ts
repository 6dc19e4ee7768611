import { expect, test } from 'vitest';
import { solve } from '../../hydraulics/index.ts';
import { control, dripline, planOf, supply } from '../plan-for-tests.ts';
import { readResults } from '../read-results.ts';
import { underLaw } from './friction-law.ts';
import { buildPlanNetwork } from './index.ts';

const plan = planOf({
  supplies: [supply('V', [0, 0])],
  controls: [control('C', [0, 0])],
  runs: [
    dripline('R', [
      [0, 0],
      [90, 0],
    ]),
  ],
});
const network = buildPlanNetwork(plan);

test('C goes by the bore, and small tube keeps the law of Darcy and Weisbach', () => {
  const { boreM, hazenWilliamsC } = underLaw(network, 'hazen-williams').network.links;
  boreM.forEach((bore, l) => {
    if (bore >= 0.012) expect([130, 140, 150]).toContain(hazenWilliamsC![l]);
    else expect(hazenWilliamsC![l]).toBeNaN();
  });
});

test('the answer differs a little, and is found again for the same network', () => {
  const end = (law: 'darcy-weisbach' | 'hazen-williams') => {
    const under = underLaw(network, law);
    const solution = solve(under.network);
    expect(solution.converged).toBe(true);
    return readResults(under, solution).lowestKpa;
  };
  const ratio = end('hazen-williams') / end('darcy-weisbach');
  expect(ratio).not.toBe(1);
  expect(Math.abs(ratio - 1)).toBeLessThan(0.1);
  expect(underLaw(network, 'hazen-williams')).toBe(underLaw(network, 'hazen-williams'));
  expect(underLaw(network, 'darcy-weisbach')).toBe(network);
});
