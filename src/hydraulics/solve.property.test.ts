import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { generated, numbers, type Recipe } from './samples/generated.ts';
import { lateral } from './samples/build.ts';
import { headLoss, LINK, solve, type Network, type Solution } from './index.ts';

const SEED = 20260611;
const check = <T extends unknown[]>(property: fc.IProperty<T>, runs = 60) =>
  fc.assert(property, { seed: SEED, numRuns: runs });

/** Trees and loops with heights, fittings, now and then a regulator; some outlets compensate, have checks or clog. */
const networks = fc
  .record({
    seed: fc.integer({ min: 1, max: 1_000_000 }),
    joints: fc.integer({ min: 1, max: 80 }),
    loops: fc.integer({ min: 0, max: 12 }),
    exponent: fc.constantFrom(0.4, 0.5, 0.7, 1),
    reliefM: fc.constantFrom(0, 2, 8, 30),
    regulator: fc.boolean(),
  })
  .map((recipe: Recipe) => someChecked(someCompensating(generated(recipe), recipe.seed), recipe.seed));

function someCompensating(network: Network, seed: number): Network {
  const next = numbers(seed + 17);
  const { outlets } = network;
  for (let k = 0; k < outlets.count; k++) {
    if (next() < 0.6) continue;
    outlets.rangeFromM[k] = 5 + 15 * next();
    outlets.ratedM3s[k] = outlets.coefficient[k]! * Math.pow(outlets.rangeFromM[k]!, outlets.exponent[k]!);
    outlets.residualExponent[k] = next() < 0.5 ? 0 : 0.1 * next();
  }
  return network;
}

function someChecked(network: Network, seed: number): Network {
  const next = numbers(seed + 18);
  const { outlets } = network;
  if (next() < 0.5) return network;
  const closingM = outlets.coefficient.map((_, k) =>
    next() < 0.4 ? (outlets.rangeFromM[k]! || 30) * 0.99 * next() : NaN,
  );
  const openShare = outlets.coefficient.map(() => (next() < 0.2 ? next() : 1));
  return { ...network, outlets: { ...outlets, closingM, openShare } };
}

function expectSameHeads(a: ArrayLike<number>, b: ArrayLike<number>, within: number): void {
  for (let v = 0; v < a.length; v++) expect(Math.abs(a[v]! - b[v]!)).toBeLessThan(within);
}

function expectBalance(network: Network, solution: Solution): void {
  const net = new Float64Array(network.nodes.count);
  for (let l = 0; l < network.links.count; l++) {
    net[network.links.from[l]!]! -= solution.flowM3s[l]!;
    net[network.links.to[l]!]! += solution.flowM3s[l]!;
  }
  for (let k = 0; k < network.outlets.count; k++) net[network.outlets.node[k]!]! -= solution.outletM3s[k]!;
  for (let v = 0; v < net.length; v++) {
    if (Number.isNaN(network.nodes.fixedHeadM[v]!)) expect(Math.abs(net[v]!)).toBeLessThan(1e-12);
  }
}

/** Losses worked out by the plain formula, apart from the solver's own tables. */
function expectLosses({ links, viscosityM2s }: Network, { headM, flowM3s }: Solution): void {
  for (let l = 0; l < links.count; l++) {
    if (links.kind[l] !== LINK.pipe) continue;
    const pipe = {
      lengthM: links.lengthM[l]! + links.extraLengthM[l]!,
      boreM: links.boreM[l]!,
      roughnessM: links.roughnessM[l]!,
      lossK: links.lossK[l]!,
    };
    const loss = headLoss(pipe, flowM3s[l]!, viscosityM2s);
    expect(Math.abs(headM[links.from[l]!]! - headM[links.to[l]!]! - loss)).toBeLessThan(1e-7);
  }
}

/** The same network with nodes and links in another order and some links turned round. */
function shuffled(network: Network, seed: number) {
  const next = numbers(seed);
  const order = (count: number) => {
    const list = Array.from({ length: count }, (_, i) => i);
    for (let i = count - 1; i > 0; i--) {
      const j = Math.floor(next() * (i + 1));
      [list[i], list[j]] = [list[j]!, list[i]!];
    }
    return list;
  };
  const { nodes, links, outlets } = network;
  const nodeOld = order(nodes.count);
  const nodeNew = new Int32Array(nodes.count);
  nodeOld.forEach((old, now) => (nodeNew[old] = now));
  const linkOld = order(links.count);
  const turned = linkOld.map((l) => links.kind[l] === LINK.pipe && next() < 0.5);
  const byLink = (values: Float64Array) => Float64Array.from(linkOld, (l) => values[l]!);
  const other: Network = {
    ...network,
    nodes: {
      count: nodes.count,
      elevationM: Float64Array.from(nodeOld, (v) => nodes.elevationM[v]!),
      fixedHeadM: Float64Array.from(nodeOld, (v) => nodes.fixedHeadM[v]!),
    },
    links: {
      count: links.count,
      from: Int32Array.from(linkOld, (l, i) => nodeNew[(turned[i] ? links.to : links.from)[l]!]!),
      to: Int32Array.from(linkOld, (l, i) => nodeNew[(turned[i] ? links.from : links.to)[l]!]!),
      kind: Uint8Array.from(linkOld, (l) => links.kind[l]!),
      lengthM: byLink(links.lengthM),
      extraLengthM: byLink(links.extraLengthM),
      boreM: byLink(links.boreM),
      roughnessM: byLink(links.roughnessM),
      lossK: byLink(links.lossK),
      settingM: byLink(links.settingM),
      curve: Int32Array.from(linkOld, (l) => links.curve[l]!),
    },
    outlets: { ...outlets, node: outlets.node.map((v) => nodeNew[v]!) },
  };
  return { other, nodeNew, linkOld, turned };
}

describe('any network', () => {
  test('settles, balances at every node, and gives nothing that is not a number', () => {
    check(
      fc.property(networks, (network) => {
        const solution = solve(network);
        expect(solution.converged).toBe(true);
        expect(solution.energyErrorM).toBeLessThan(1e-7);
        expectBalance(network, solution);
        expectLosses(network, solution);
        expect([...solution.headM, ...solution.flowM3s].every(Number.isFinite)).toBe(true);
        expect(solution.outletM3s.every((q) => q >= 0)).toBe(true);
      }),
      200,
    );
  });

  test('has the same answer with other numbers and turned links', () => {
    check(
      fc.property(networks, fc.integer({ min: 1, max: 1e6 }), (network, seed) => {
        const { other, nodeNew, linkOld, turned } = shuffled(network, seed);
        const a = solve(network);
        const b = solve(other);
        expectSameHeads(
          a.headM,
          Float64Array.from(nodeNew, (v) => b.headM[v]!),
          1e-6,
        );
        linkOld.forEach((old, now) => {
          const flow = turned[now] ? -b.flowM3s[now]! : b.flowM3s[now]!;
          expect(Math.abs(flow - a.flowM3s[old]!)).toBeLessThan(1e-9);
        });
      }),
    );
  });

  test('has no lower pressure anywhere when the source is higher', () => {
    check(
      fc.property(networks, fc.double({ min: 0.01, max: 20, noNaN: true }), (network, moreM) => {
        const before = solve(network);
        const fixedHeadM = network.nodes.fixedHeadM.map((h) => h + moreM);
        const after = solve({ ...network, nodes: { ...network.nodes, fixedHeadM } });
        for (let v = 0; v < before.headM.length; v++) {
          expect(after.headM[v]! - before.headM[v]!).toBeGreaterThan(-1e-6);
        }
      }),
    );
  });

  test('is level when nothing flows', () => {
    check(
      fc.property(networks, (network) => {
        const closed = { ...network.outlets, coefficient: network.outlets.coefficient.map(() => 0) };
        const { headM, flowM3s } = solve({
          ...network,
          outlets: { ...closed, ratedM3s: closed.ratedM3s.map(() => NaN) },
        });
        const source = network.nodes.fixedHeadM[0]!;
        const level = network.links.kind.includes(LINK.regulator) ? 25 : source;
        for (let v = 0; v < headM.length; v++) {
          expect(headM[v] === source || headM[v] === level).toBe(true);
        }
        expect(flowM3s.every((q) => q === 0)).toBe(true);
      }),
    );
  });

  test('is found alike from a warm start after any change of lengths', () => {
    check(
      fc.property(networks, fc.integer({ min: 1, max: 1e6 }), (network, seed) => {
        const next = numbers(seed);
        const lengthM = network.links.lengthM.map((l) => (next() < 0.3 ? l * (0.2 + 3 * next()) : l));
        const changed = { ...network, links: { ...network.links, lengthM } };
        const warm = solve(changed, solve(network));
        const cold = solve(changed);
        expect(warm.converged).toBe(true);
        expectSameHeads(warm.headM, cold.headM, 1e-6);
      }),
    );
  });
});

describe('laminar flow', () => {
  test('with outlets of exponent 1 doubles when the source does', () => {
    check(
      fc.property(
        fc.integer({ min: 2, max: 40 }),
        fc.double({ min: 1, max: 4, noNaN: true }),
        fc.double({ min: 0.02, max: 0.05, noNaN: true }),
        (count, inletM, k) => {
          const sketch = { inletM, count, spacingM: 0.3, boreMm: 6, k, x: 1 };
          const once = solve(lateral(sketch));
          const twice = solve(lateral({ ...sketch, inletM: 2 * inletM }));
          for (let v = 0; v < once.headM.length; v++) {
            expect(Math.abs(twice.headM[v]! - 2 * once.headM[v]!)).toBeLessThan(1e-6);
          }
          for (let l = 0; l < count; l++) {
            expect(Math.abs(twice.flowM3s[l]! / once.flowM3s[l]! - 2)).toBeLessThan(1e-6);
          }
        },
      ),
    );
  });
});
