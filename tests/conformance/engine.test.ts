import { describe, expect, test } from 'vitest';
import { m3sToLph, solve, type Network } from '../../src/hydraulics/index.ts';
import { lateral, networkOf } from '../../src/hydraulics/samples/build.ts';
import { flushing } from './design.ts';
import { engineOf } from './engine.ts';
import { generated, rowsOnHeader, type Recipe } from '../../src/hydraulics/samples/generated.ts';

interface Difference {
  readonly headM: number;
  readonly flowLph: number;
}

async function differenceTo(network: Network): Promise<Difference> {
  const ours = solve(network);
  expect(ours.converged).toBe(true);
  expect(ours.energyErrorM).toBeLessThan(1e-7);
  const engine = await engineOf(network);
  engine.run();
  const heads = engine.headsM();
  const flows = engine.flowsM3s();
  engine.close();
  let headM = 0;
  let flowLph = 0;
  for (let v = 0; v < heads.length; v++) headM = Math.max(headM, Math.abs(heads[v]! - ours.headM[v]!));
  for (let l = 0; l < flows.length; l++) {
    flowLph = Math.max(flowLph, m3sToLph(Math.abs(flows[l]! - ours.flowM3s[l]!)));
  }
  return { headM, flowLph };
}

const single: readonly (readonly [string, Network])[] = [
  [
    'one run of 100 outlets',
    lateral({ inletM: 12, count: 100, spacingM: 0.3, boreMm: 13.8, k: 0.7, x: 0.5 }),
  ],
  [
    'one run that rises 3 %',
    lateral({ inletM: 15, count: 80, spacingM: 0.5, boreMm: 13.8, slope: 0.03, k: 0.9, x: 0.5 }),
  ],
  [
    'quarter-inch tubing with 20 outlets',
    lateral({ inletM: 10.55, count: 20, spacingM: 0.15, boreMm: 4.3, k: 1.9 / Math.sqrt(10.55), x: 0.5 }),
  ],
  ['a run with an open end, flushed', networkOf(flushing)],
  ['ten rows on a header that falls', rowsOnHeader(10, 50, false, -0.05)],
  ['ten rows in a loop that falls', rowsOnHeader(10, 50, true, -0.05)],
  [
    'a tree with heights, barbs, fittings and a regulator',
    generated({ seed: 7, joints: 120, loops: 0, exponent: 0.5, reliefM: 3, regulator: true }),
  ],
];

describe('the EPANET engine, run beside ours', () => {
  test.each(single)('%s', async (_, network) => {
    const { headM, flowLph } = await differenceTo(network);
    expect(headM).toBeLessThan(1e-3);
    expect(flowLph).toBeLessThan(0.05);
  });

  test.each([false, true])('after Hazen and Williams, looped: %s', async (looped) => {
    const plain = rowsOnHeader(4, 20, looped, -0.05);
    // Outlets of a small sprinkler's flow keep all pipes in turbulent flow, the only one for which there is a law.
    const { links } = plain;
    const network: Network = {
      ...plain,
      links: { ...links, hazenWilliamsC: new Float64Array(links.count).fill(140) },
      outlets: { ...plain.outlets, coefficient: plain.outlets.coefficient.map((k) => 40 * k) },
    };
    const { headM } = await differenceTo(network);
    expect(headM).toBeLessThan(1e-3);
  });

  test('200 generated networks: trees and loops, heights, exponents, regulators', async () => {
    const EXPONENTS = [0.5, 0.5, 0.45, 0.7, 1];
    let worst: Difference = { headM: 0, flowLph: 0 };
    for (let seed = 1; seed <= 200; seed++) {
      const recipe: Recipe = {
        seed,
        joints: 10 + ((seed * 37) % 190),
        loops: seed % 3 === 0 ? seed % 12 : 0,
        exponent: EXPONENTS[seed % EXPONENTS.length]!,
        reliefM: (seed % 5) * 1.5,
        regulator: seed % 4 === 0,
      };
      const d = await differenceTo(generated(recipe));
      worst = { headM: Math.max(worst.headM, d.headM), flowLph: Math.max(worst.flowLph, d.flowLph) };
      expect(d.headM, `seed ${seed}`).toBeLessThan(2e-3);
      expect(d.flowLph, `seed ${seed}`).toBeLessThan(0.02);
    }
    console.log(
      `engine: 200 generated networks, largest difference ${(worst.headM * 1000).toFixed(3)} mm of head, ` +
        `${worst.flowLph.toFixed(4)} L/h`,
    );
  }, 120_000);
});
