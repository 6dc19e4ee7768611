import { describe, expect, test } from 'vitest';
import { LINK, m3sToLph, solve, type Network } from './index.ts';
import { lateral, networkOf } from './samples/build.ts';
import { rowsOnHeader } from './samples/generated.ts';
import { faults, finding, kinds, outlet, withPart } from './samples/parts.ts';

describe('loss by curve', () => {
  test('is met at the points of the curve', () => {
    const curves = [{ flowM3s: Float64Array.of(1e-5, 2e-5, 4e-5), lossM: Float64Array.of(1, 3, 9) }];
    const rated = (lph: number) => ({ node: 'A', k: 1, x: 0.5, ratedLph: lph, rangeFromM: 1 });
    for (const [lph, loss] of [
      [36, 1],
      [72, 3],
      [144, 9],
    ] as const) {
      const network = withPart(
        { from: 'S', to: 'A', kind: LINK.loss, curve: 0 },
        { curves, outlets: [rated(lph)] },
      );
      const solution = solve(network);
      expect(faults(solution)).toEqual([]);
      expect(30 - solution.headM[1]!).toBeCloseTo(loss, 5);
    }
  });
});

describe('parts without water', () => {
  test('a network without a source is named, and nothing else is NaN', () => {
    const solution = solve(withPart({ from: 'S', to: 'A', lengthM: 1 }, {}, NaN));
    expect(kinds(solution)).toEqual(['no-source']);
    expect(solution.headM.every(Number.isNaN)).toBe(true);
    expect([...solution.flowM3s, ...solution.outletM3s]).toEqual([0, 0, 0]);
    expect(solution.converged).toBe(true);
  });

  test('each part that is not connected is named with its nodes, links and outlets; the rest is solved', () => {
    const network = networkOf({
      nodes: ['S', 'A', 'X', 'Y', 'Z'].map((id) => (id === 'S' ? { id, fixedHeadM: 20 } : { id })),
      links: [
        { from: 'S', to: 'A', lengthM: 10 },
        { from: 'X', to: 'Y', lengthM: 10 },
      ],
      outlets: [outlet('A'), outlet('Y'), outlet('Z')],
    });
    const solution = solve(network);
    const apart = solution.findings.filter((f) => f.kind === 'not-connected');
    expect(apart.map(({ nodes, links, outlets }) => ({ nodes, links, outlets }))).toEqual([
      { nodes: [2, 3], links: [1], outlets: [1] },
      { nodes: [4], links: [], outlets: [2] },
    ]);
    expect(solution.outletM3s[0]).toBeGreaterThan(0);
    expect([...solution.headM].map(Number.isNaN)).toEqual([false, false, true, true, true]);
    expect(faults(solution)).toEqual([]);
  });

  test('an empty network has an answer', () => {
    const solution = solve(networkOf({ nodes: [], links: [] }));
    expect(solution.converged).toBe(true);
    expect(solution.headM.length).toBe(0);
  });
});

describe('bad values', () => {
  const fields = ['lengthM', 'extraLengthM', 'boreM', 'roughnessM', 'lossK'] as const;

  test.each(fields.flatMap((field) => [NaN, -1, Infinity].map((value) => [field, value] as const)))(
    '%s of a pipe is %s: the pipe is named and left out',
    (field, value) => {
      const network = lateral({ inletM: 10, count: 5, spacingM: 1, boreMm: 13.8, k: 1, x: 0.5 });
      network.links[field][3] = value;
      const solution = solve(network);
      expect(finding(solution, 'bad-value')?.links).toEqual([3]);
      expect(finding(solution, 'not-connected')?.nodes).toEqual([4, 5]);
      expect([...solution.outletM3s].map((q) => q > 0)).toEqual([true, true, true, false, false]);
      expect(faults(solution)).toEqual([]);
    },
  );

  test('a bore of zero, an end that does not exist, a link from a node to itself', () => {
    for (const spoil of [
      (n: Network) => (n.links.boreM[3] = 0),
      (n: Network) => (n.links.to[3] = 99),
      (n: Network) => (n.links.from[3] = -1),
      (n: Network) => (n.links.to[3] = n.links.from[3]!),
      (n: Network) => (n.links.kind[3] = 9),
    ]) {
      const network = lateral({ inletM: 10, count: 5, spacingM: 1, boreMm: 13.8, k: 1, x: 0.5 });
      spoil(network);
      const solution = solve(network);
      expect(finding(solution, 'bad-value')?.links).toEqual([3]);
      expect(faults(solution)).toEqual([]);
    }
  });

  test('outlets, levels, held heads, settings, curves and viscosity are named; the rest goes on', () => {
    const network = lateral({ inletM: 10, count: 6, spacingM: 1, boreMm: 13.8, k: 1, x: 0.5 });
    network.outlets.coefficient[0] = NaN;
    network.outlets.exponent[1] = -0.5;
    network.outlets.node[2] = 77;
    network.nodes.elevationM[4] = NaN;
    network.nodes.fixedHeadM[6] = Infinity;
    const solution = solve({ ...network, viscosityM2s: 0 });
    const bad = solution.findings.filter((f) => f.kind === 'bad-value');
    expect(bad.map((f) => [f.nodes, f.links, f.outlets])).toEqual([
      [[4, 6], [], []],
      [[], [], [0, 1, 2, 3]],
      [[], [], []],
    ]);
    expect([...solution.outletM3s].map((q) => q > 0)).toEqual([false, false, false, false, true, true]);
    expect([...solution.headM].every(Number.isFinite)).toBe(true);
    expect(faults(solution)).toEqual([]);

    const curves = [{ flowM3s: Float64Array.of(1e-5, 2e-5), lossM: Float64Array.of(3, 1) }];
    const falling = solve(withPart({ from: 'S', to: 'A', kind: LINK.loss, curve: 0 }, { curves }));
    expect(finding(falling, 'bad-value')?.links).toEqual([0]);
    expect(falling.headM[1]).toBeCloseTo(30, 5);
    const unset = solve(withPart({ from: 'S', to: 'A', kind: LINK.regulator, settingM: NaN }));
    expect(finding(unset, 'bad-value')?.links).toEqual([0]);
  });

  test('a pipe of no length joins its ends', () => {
    const network = lateral({ inletM: 10, count: 5, spacingM: 1, boreMm: 13.8, k: 1, x: 0.5 });
    network.links.lengthM[2] = 0;
    const solution = solve(network);
    expect(faults(solution)).toEqual([]);
    expect(solution.headM[2]! - solution.headM[3]!).toBeLessThan(1e-5);
  });
});

describe('outlets under pressure that fails', () => {
  test('beyond what the tubing can carry the far outlets run dry, never backwards', () => {
    const network = lateral({ inletM: 10, count: 400, spacingM: 0.3, boreMm: 6, slope: 0.1, k: 1, x: 0.5 });
    const solution = solve(network);
    expect(faults(solution)).toEqual([]);
    expect(solution.outletM3s.every((q) => q >= 0)).toBe(true);
    const dry = finding(solution, 'outlet-dry')!.outlets;
    expect(dry.length).toBeGreaterThan(100);
    for (const k of dry) expect(solution.outletM3s[k]).toBe(0);
  });

  test('2000 compensating outlets on one run, nearly all below their range, settle', () => {
    const solution = solve(
      lateral({
        inletM: 10,
        count: 2000,
        spacingM: 0.3,
        boreMm: 13.8,
        k: 2.3 / Math.sqrt(7),
        x: 0.5,
        ratedLph: 2.3,
        rangeFromM: 7,
      }),
    );
    expect(faults(solution)).toEqual([]);
    expect(solution.iterations).toBeLessThan(30);
  });

  test.each([22, 23, 7, 50])(
    'behind pipes that let next to nothing through (one in %s) it settles',
    (every) => {
      const network = rowsOnHeader(6, 20, true);
      const boreM = network.links.boreM.map((d, l) => (l % every === every - 1 ? 1e-5 : d));
      const solution = solve({ ...network, links: { ...network.links, boreM } });
      expect(faults(solution)).toEqual([]);
      const through = solution.flowM3s.filter((_, l) => boreM[l] === 1e-5);
      expect(through.every((q) => Math.abs(q) < 1e-12)).toBe(true);
    },
  );

  test('rise above the node counts', () => {
    const low = solve(networkOf({ nodes: [{ id: 'S', fixedHeadM: 5 }], links: [], outlets: [outlet('S')] }));
    const risen = solve(
      networkOf({
        nodes: [{ id: 'S', fixedHeadM: 5 }],
        links: [],
        outlets: [{ ...outlet('S'), riseM: 3.75 }],
      }),
    );
    expect(risen.outletM3s[0]! / low.outletM3s[0]!).toBeCloseTo(0.5, 12);
  });
});

describe('outlets with checks, clogged outlets', () => {
  const run = { inletM: 10, count: 40, spacingM: 0.5, boreMm: 13.8, slope: 0.3, k: 1, x: 0.5 } as const;
  const withArrays = (more: Partial<Network['outlets']>): Network => {
    const network = lateral(run);
    return { ...network, outlets: { ...network.outlets, ...more } };
  };

  test('neutral arrays change nothing', () => {
    const plain = solve(lateral(run));
    const neutral = solve(
      withArrays({ closingM: new Float64Array(40).fill(NaN), openShare: new Float64Array(40).fill(1) }),
    );
    expect(neutral.headM).toEqual(plain.headM);
    expect(neutral.outletM3s).toEqual(plain.outletM3s);
  });

  test('close where the pressure falls below, and are named; the others give more', () => {
    const plain = solve(lateral(run));
    const network = withArrays({ closingM: new Float64Array(40).fill(6) });
    const solution = solve(network);
    expect(faults(solution)).toEqual([]);
    const shut = finding(solution, 'outlet-dry')!.outlets;
    expect(shut.length).toBeGreaterThan(5);
    for (let k = 0; k < 40; k++) {
      const pressure = solution.headM[k + 1]! - network.nodes.elevationM[k + 1]!;
      expect(shut.includes(k)).toBe(pressure <= 6);
      expect(solution.outletM3s[k]! === 0).toBe(pressure <= 6);
      if (pressure > 6.6) expect(solution.outletM3s[k]!).toBeGreaterThan(plain.outletM3s[k]!);
    }
  });

  test('on a run whose far end hovers about the closing pressure it settles', () => {
    for (let closing = 5; closing < 9; closing += 0.1) {
      const solution = solve(withArrays({ closingM: new Float64Array(40).fill(closing) }));
      expect(faults(solution)).toEqual([]);
      expect(solution.iterations).toBeLessThan(30);
    }
  });

  test('clogging takes its share of the flow; what is shut is not called dry', () => {
    const openShare = Float64Array.from({ length: 40 }, (_, k) => [1, 0.5, 0][k % 3]!);
    const network = withArrays({ openShare });
    const solution = solve(network);
    expect(faults(solution)).toEqual([]);
    for (let k = 0; k < 40; k++) {
      const pressure = solution.headM[k + 1]! - network.nodes.elevationM[k + 1]!;
      expect(m3sToLph(solution.outletM3s[k]!)).toBeCloseTo(openShare[k]! * Math.sqrt(pressure), 9);
    }
    expect(kinds(solution)).toEqual([]);
    const opened = solve(
      { ...network, outlets: { ...network.outlets, openShare: new Float64Array(40).fill(1) } },
      solution,
    );
    const cold = solve(lateral(run));
    for (let v = 0; v <= 40; v++) expect(opened.headM[v]!).toBeCloseTo(cold.headM[v]!, 7);
  });

  test('shares and closing pressures out of range are named', () => {
    const openShare = new Float64Array(40).fill(1);
    openShare.set([NaN, -0.1, 1.1]);
    const closingM = new Float64Array(40).fill(NaN);
    closingM[7] = -1;
    closingM[8] = Infinity;
    const ratedM3s = new Float64Array(40).fill(NaN);
    ratedM3s[9] = 1e-6;
    closingM[9] = 5;
    const rangeFromM = new Float64Array(40).fill(5);
    const solution = solve(withArrays({ openShare, closingM, ratedM3s, rangeFromM }));
    expect(finding(solution, 'bad-value')?.outlets).toEqual([0, 1, 2, 7, 8, 9]);
    expect(faults(solution)).toEqual([]);
  });
});
