import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { LINK, solve, type Network } from './index.ts';
import { generated, numbers } from './samples/generated.ts';

const BAD = [NaN, Infinity, -Infinity, -1, 0, 1e300, 1e-300];

/** A network in which links become valves, parts lose or gain sources, and some values are spoilt. */
function hostile(seed: number, joints: number, loops: number, badShare: number): Network {
  const network = generated({ seed, joints, loops, exponent: 0.5, reliefM: 10, regulator: seed % 2 === 0 });
  const next = numbers(seed + 1);
  const pick = (count: number) => Math.floor(next() * count);
  const { nodes, links, outlets } = network;
  for (let l = 0; l < links.count; l++) {
    const roll = next();
    if (roll < 0.06) {
      links.kind[l] = LINK.regulator;
      links.settingM[l] = 30 * next();
      links.curve[l] = pick(3) - 1;
    } else if (roll < 0.12) {
      links.kind[l] = LINK.check;
      links.curve[l] = pick(4) - 1;
    } else if (roll < 0.18) {
      links.kind[l] = LINK.loss;
      links.curve[l] = pick(3) - 1;
    }
  }
  for (let v = 1; v < nodes.count; v++) if (next() < 0.05) nodes.fixedHeadM[v] = 60 * next();
  for (let k = 0; k < outlets.count; k++) {
    if (next() < 0.5) continue;
    outlets.rangeFromM[k] = 1 + 15 * next();
    outlets.ratedM3s[k] = outlets.coefficient[k]! * Math.sqrt(outlets.rangeFromM[k]!);
  }
  const closingM = outlets.coefficient.map((_, k) =>
    next() < 0.3 ? (outlets.rangeFromM[k]! || 10) * next() : NaN,
  );
  const openShare = outlets.coefficient.map(() => (next() < 0.3 ? next() : 1));
  const fields = [
    nodes.elevationM,
    nodes.fixedHeadM,
    links.lengthM,
    links.extraLengthM,
    links.boreM,
    links.roughnessM,
    links.lossK,
    links.settingM,
    outlets.coefficient,
    outlets.exponent,
    outlets.riseM,
    closingM,
    openShare,
  ];
  for (const field of fields) {
    for (let i = 0; i < field.length; i++) if (next() < badShare) field[i] = BAD[pick(BAD.length)]!;
  }
  const indices = [links.from, links.to, outlets.node, links.curve];
  for (const field of indices)
    for (let i = 0; i < field.length; i++) if (next() < badShare) field[i] = pick(300) - 50;
  return {
    ...network,
    outlets: { ...outlets, closingM, openShare },
    curves: [
      { flowM3s: Float64Array.of(0, 1e-5, 1e-3), lossM: Float64Array.of(0, 0.5, 9) },
      { flowM3s: Float64Array.of(1e-5, 2e-5), lossM: Float64Array.of(3, 3) },
      // Last, since only check valves may have it.
      { flowM3s: Float64Array.of(0, 1e-5, 1e-4), lossM: Float64Array.of(1, 1, 4) },
    ],
  };
}

const cases = (badShare: number) =>
  fc
    .tuple(fc.integer({ min: 1, max: 1e6 }), fc.integer({ min: 2, max: 60 }), fc.integer({ min: 0, max: 8 }))
    .map(([seed, joints, loops]) => ({
      seed,
      joints,
      loops,
      network: hostile(seed, joints, loops, badShare),
    }));

describe('hostile networks', () => {
  test('with valves, curves and several sources anywhere settle, all but one in fifty', () => {
    let count = 0;
    let unsettled = 0;
    fc.assert(
      fc.property(cases(0), ({ network }) => {
        const solution = solve(network);
        count++;
        if (!solution.converged) {
          unsettled++;
          expect(solution.findings.map((f) => f.kind)).toContain('not-converged');
          return;
        }
        expect(solution.energyErrorM).toBeLessThan(1e-6);
        expect(solution.massErrorM3s).toBeLessThan(1e-11);
        for (let l = 0; l < network.links.count; l++) {
          const oneWay = network.links.kind[l] === LINK.regulator || network.links.kind[l] === LINK.check;
          if (oneWay) expect(solution.flowM3s[l]).toBeGreaterThan(-1e-9);
        }
      }),
      { seed: 5, numRuns: 500 },
    );
    expect(unsettled / count).toBeLessThan(0.02);
  });

  test('with spoilt values never throw, never give a number that is none, and name what is wrong', () => {
    fc.assert(
      fc.property(cases(0.03), ({ network }) => {
        const solution = solve(network);
        const apart = new Set(
          solution.findings.flatMap((f) =>
            f.kind === 'not-connected' || f.kind === 'no-source' ? f.nodes : [],
          ),
        );
        solution.headM.forEach((head, v) => expect(Number.isNaN(head)).toBe(apart.has(v)));
        expect(solution.flowM3s.some(Number.isNaN)).toBe(false);
        expect(solution.outletM3s.every((q) => q >= 0)).toBe(true);
        expect(solution.massErrorM3s).not.toBeNaN();
        if (!solution.converged) expect(solution.findings.map((f) => f.kind)).toContain('not-converged');
      }),
      { seed: 6, numRuns: 400 },
    );
  });
});
