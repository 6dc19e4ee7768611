import { describe, expect, test } from 'vitest';
import { lateral, networkOf, type Sketch } from './samples/build.ts';
import { rowsOnHeader } from './samples/generated.ts';
import { LINK, m3sToLph, solve, type Finding, type Network, type Solution } from './index.ts';

const outlet = (node: string, k = 1) => ({ node, k, x: 0.5 });
const kinds = (solution: Solution) => solution.findings.map((f) => f.kind);
const finding = (solution: Solution, kind: Finding['kind']) => solution.findings.find((f) => f.kind === kind);

function sound(solution: Solution): void {
  expect(solution.converged).toBe(true);
  expect(solution.massErrorM3s).toBeLessThan(1e-13);
  expect(solution.energyErrorM).toBeLessThan(1e-7);
}

/** The links with the pipes turned round. */
function reversedPipes({ links }: Network): Network['links'] {
  const turn = (ends: Int32Array, others: Int32Array) =>
    ends.map((v, l) => (links.kind[l] === LINK.pipe ? others[l]! : v));
  return { ...links, from: turn(links.from, links.to), to: turn(links.to, links.from) };
}

/** Source, a part, then a pipe of 20 m with an outlet at its end. */
function withPart(part: Sketch['links'][number], more: Partial<Sketch> = {}, sourceM = 30): Network {
  return networkOf({
    nodes: [{ id: 'S', fixedHeadM: sourceM }, { id: 'A' }, { id: 'B', zM: 1 }],
    links: [part, { from: 'A', to: 'B', lengthM: 20 }],
    outlets: [outlet('B', 10)],
    ...more,
  });
}

describe('regulator', () => {
  const regulator = { from: 'S', to: 'A', kind: LINK.regulator, settingM: 15 };

  test('holds its setting above the level of its outlet', () => {
    const solution = solve(
      withPart(regulator, { nodes: [{ id: 'S', fixedHeadM: 30 }, { id: 'A', zM: 2 }, { id: 'B' }] }),
    );
    sound(solution);
    expect(solution.headM[1]).toBe(17);
    expect(kinds(solution)).toEqual([]);
  });

  test('stands open when the pressure before it is too low, loses head by its curve, and is named', () => {
    const curves = [{ flowM3s: Float64Array.of(0, 1e-5, 1e-4), lossM: Float64Array.of(0, 2, 8) }];
    const solution = solve(withPart({ ...regulator, curve: 0 }, { curves }, 12));
    sound(solution);
    expect(finding(solution, 'regulator-open')?.links).toEqual([0]);
    const loss = 12 - solution.headM[1]!;
    expect(loss).toBeGreaterThan(1);
    expect(loss).toBeLessThan(4);
  });

  test('opens when its own loss leaves too little, although the source alone would do', () => {
    const curves = [{ flowM3s: Float64Array.of(0, 1e-5), lossM: Float64Array.of(0, 4) }];
    const solution = solve(withPart({ ...regulator, curve: 0 }, { curves }, 16));
    sound(solution);
    expect(solution.headM[1]).toBeLessThan(15);
    expect(kinds(solution)).toEqual(['regulator-open']);
  });

  test('shuts when a second source behind it is higher', () => {
    const network = networkOf({
      nodes: [{ id: 'S', fixedHeadM: 18 }, { id: 'A' }, { id: 'B' }, { id: 'T', fixedHeadM: 25 }],
      links: [regulator, { from: 'A', to: 'B', lengthM: 20 }, { from: 'T', to: 'B', lengthM: 5 }],
      outlets: [outlet('A'), outlet('B')],
    });
    const solution = solve(network);
    sound(solution);
    expect(solution.flowM3s[0]).toBe(0);
    expect(finding(solution, 'regulator-reversed')?.links).toEqual([0]);
    expect(solution.headM[1]).toBeGreaterThan(20);
  });

  test('built in backwards lets nothing through and is named', () => {
    const solution = solve(withPart({ ...regulator, from: 'A', to: 'S' }));
    expect(kinds(solution)).toEqual(['not-connected', 'regulator-reversed']);
    expect(solution.outletM3s[0]).toBe(0);
    expect(solution.headM[1]).toBeNaN();
  });

  test('two in line: the second lowers what the first holds', () => {
    const network = networkOf({
      nodes: [{ id: 'S', fixedHeadM: 40 }, { id: 'A' }, { id: 'B' }, { id: 'C' }],
      links: [
        regulator,
        { from: 'A', to: 'B', kind: LINK.regulator, settingM: 10 },
        { from: 'B', to: 'C', lengthM: 30 },
      ],
      outlets: [outlet('C', 20)],
    });
    const solution = solve(network);
    sound(solution);
    expect([...solution.headM.slice(0, 3)]).toEqual([40, 15, 10]);
    expect(solution.flowM3s[0]).toBeCloseTo(solution.outletM3s[0]!, 13);
  });

  test('two side by side to one node: the higher setting holds', () => {
    const network = networkOf({
      nodes: [{ id: 'S', fixedHeadM: 40 }, { id: 'A' }, { id: 'B' }],
      links: [regulator, { ...regulator, settingM: 20 }, { from: 'A', to: 'B', lengthM: 30 }],
      outlets: [outlet('B', 20)],
    });
    const solution = solve(network);
    sound(solution);
    expect(solution.headM[1]).toBe(20);
    expect(solution.flowM3s[0]).toBe(0);
  });

  test('with a way round it that brings little still holds', () => {
    const network = networkOf({
      nodes: [{ id: 'S', fixedHeadM: 40 }, { id: 'A' }, { id: 'B' }, { id: 'C' }],
      links: [
        { from: 'S', to: 'C', lengthM: 5, boreMm: 20 },
        { from: 'C', to: 'A', kind: LINK.regulator, settingM: 15 },
        { from: 'A', to: 'B', lengthM: 30 },
        { from: 'C', to: 'B', lengthM: 200, boreMm: 4 },
      ],
      outlets: [outlet('B', 60), outlet('A', 20)],
    });
    const solution = solve(network);
    sound(solution);
    expect(solution.headM[1]).toBe(15);
    expect(solution.flowM3s[1]).toBeGreaterThan(0);
  });

  test('a changed setting is found from a warm start', () => {
    const cold = solve(withPart(regulator));
    const changed = withPart({ ...regulator, settingM: 12 });
    const warm = solve(changed, cold);
    sound(warm);
    expect(warm.headM[1]).toBe(12);
    expect(warm.headM[2]).toBeCloseTo(solve(changed).headM[2]!, 7);
  });
});

describe('check valve', () => {
  const ring = (firstM: number, secondM: number) =>
    networkOf({
      nodes: [{ id: 'S', fixedHeadM: firstM }, { id: 'A' }, { id: 'T', fixedHeadM: secondM }],
      links: [
        { from: 'S', to: 'A', kind: LINK.check },
        { from: 'T', to: 'A', lengthM: 10 },
      ],
      outlets: [outlet('A', 5)],
    });

  test('lets no water back', () => {
    const solution = solve(ring(20, 30));
    sound(solution);
    expect(solution.flowM3s[0]).toBe(0);
    expect(solution.flowM3s[1]).toBeCloseTo(solution.outletM3s[0]!, 13);
  });

  test('lets water through forward, hardly losing head', () => {
    const solution = solve(ring(30, 20));
    sound(solution);
    expect(solution.headM[1]).toBeCloseTo(30, 5);
    expect(solution.flowM3s[1]).toBeLessThan(0);
  });

  test('two in line against a higher source leave no outlet between them without water', () => {
    const network = networkOf({
      nodes: [{ id: 'S', fixedHeadM: 10 }, { id: 'M' }, { id: 'A' }, { id: 'T', fixedHeadM: 30 }],
      links: [
        { from: 'S', to: 'M', kind: LINK.check },
        { from: 'M', to: 'A', kind: LINK.check },
        { from: 'T', to: 'A', lengthM: 10 },
      ],
      outlets: [outlet('M', 5), outlet('A', 5)],
    });
    const solution = solve(network);
    sound(solution);
    expect(m3sToLph(solution.outletM3s[0]!)).toBeCloseTo(5 * Math.sqrt(10), 3);
    expect(solution.flowM3s[1]).toBe(0);
  });
});

describe('check valve with an opening pressure', () => {
  const curves = [{ flowM3s: Float64Array.of(0, 1e-5, 1e-4), lossM: Float64Array.of(2, 2.5, 6) }];
  const part = { from: 'S', to: 'A', kind: LINK.check, curve: 0 };

  test('takes its opening loss and what its flow asks for', () => {
    for (const turned of [false, true]) {
      const network = withPart(part, {
        curves,
        outlets: [{ node: 'A', k: 1, x: 0.5, ratedLph: 36, rangeFromM: 1 }],
      });
      const solution = solve(turned ? { ...network, links: reversedPipes(network) } : network);
      sound(solution);
      expect(30 - solution.headM[1]!).toBeCloseTo(2.5, 5);
    }
  });

  test('without flow it keeps back what it takes to open', () => {
    const solution = solve(withPart(part, { curves, outlets: [] }));
    sound(solution);
    expect(solution.flowM3s[0]).toBe(0);
    expect(solution.headM[2]).toBe(28);
  });

  test('stays shut when what is behind it is higher than the source less its opening loss', () => {
    const between = (secondM: number) =>
      solve(
        networkOf({
          nodes: [{ id: 'S', fixedHeadM: 20 }, { id: 'A' }, { id: 'T', fixedHeadM: secondM }],
          links: [part, { from: 'T', to: 'A', lengthM: 10 }],
          outlets: [outlet('A', 5)],
          curves,
        }),
      );
    const shut = between(18.5);
    sound(shut);
    expect(shut.flowM3s[0]).toBe(0);
    expect(shut.flowM3s[1]).toBeCloseTo(shut.outletM3s[0]!, 13);
    const open = between(17);
    sound(open);
    expect(open.flowM3s[0]).toBeGreaterThan(open.outletM3s[0]!);
    expect(open.headM[1]).toBeLessThan(18);
  });

  test('on any other part a loss at zero flow is named and not taken', () => {
    const solution = solve(withPart({ ...part, kind: LINK.loss }, { curves }));
    expect(finding(solution, 'bad-value')?.links).toEqual([0]);
    expect(finding(solution, 'bad-value')?.message).toMatch(/zero flow/);
    expect(solution.headM[1]).toBeCloseTo(30, 5);
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
    sound(solution);
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
      sound(solution);
      expect(solution.iterations).toBeLessThan(30);
    }
  });

  test('clogging takes its share of the flow; what is shut is not called dry', () => {
    const openShare = Float64Array.from({ length: 40 }, (_, k) => [1, 0.5, 0][k % 3]!);
    const network = withArrays({ openShare });
    const solution = solve(network);
    sound(solution);
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
    sound(solution);
  });
});

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
      sound(solution);
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
    sound(solution);
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
      sound(solution);
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
      sound(solution);
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
    sound(solution);

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
    sound(solution);
    expect(solution.headM[2]! - solution.headM[3]!).toBeLessThan(1e-5);
  });
});

describe('outlets under pressure that fails', () => {
  test('beyond what the tubing can carry the far outlets run dry, never backwards', () => {
    const network = lateral({ inletM: 10, count: 400, spacingM: 0.3, boreMm: 6, slope: 0.1, k: 1, x: 0.5 });
    const solution = solve(network);
    sound(solution);
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
    sound(solution);
    expect(solution.iterations).toBeLessThan(30);
  });

  test.each([22, 23, 7, 50])(
    'behind pipes that let next to nothing through (one in %s) it settles',
    (every) => {
      const network = rowsOnHeader(6, 20, true);
      const boreM = network.links.boreM.map((d, l) => (l % every === every - 1 ? 1e-5 : d));
      const solution = solve({ ...network, links: { ...network.links, boreM } });
      sound(solution);
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

describe('warm start', () => {
  test('one changed length gives the answer of a cold start, in fewer passes', () => {
    const network = rowsOnHeader(20, 50, true);
    const before = solve(network);
    const lengthM = network.links.lengthM.slice();
    lengthM[500] = 2;
    const changed = { ...network, links: { ...network.links, lengthM } };
    const warm = solve(changed, before);
    const cold = solve(changed);
    sound(warm);
    expect(warm.iterations).toBeLessThanOrEqual(cold.iterations);
    for (let v = 0; v < cold.headM.length; v++)
      expect(Math.abs(warm.headM[v]! - cold.headM[v]!)).toBeLessThan(1e-7);
  });

  test('an answer serves more than once, and as a copy', () => {
    const network = rowsOnHeader(5, 20, true);
    const before = solve(network);
    const copy = structuredClone(before);
    const shorter = {
      ...network,
      links: { ...network.links, lengthM: network.links.lengthM.map((l) => l * 0.5) },
    };
    const narrower = {
      ...network,
      links: { ...network.links, boreM: network.links.boreM.map((d) => d * 0.8) },
    };
    for (const changed of [shorter, narrower, shorter]) {
      const cold = solve(changed);
      for (const start of [before, copy]) {
        const warm = solve(changed, start);
        sound(warm);
        for (let v = 0; v < cold.headM.length; v++) {
          expect(Math.abs(warm.headM[v]! - cold.headM[v]!)).toBeLessThan(1e-7);
        }
      }
    }
    expect(before.headM).toEqual(copy.headM);
  });

  test('an answer serves again after others have been found from it with other outlets or levels', () => {
    const network = rowsOnHeader(5, 20, true);
    const before = solve(network);
    const outlets = { ...network.outlets, coefficient: network.outlets.coefficient.map((k) => 3 * k) };
    const nodes = { ...network.nodes, elevationM: network.nodes.elevationM.map((z) => z - 2) };
    for (const changed of [
      { ...network, outlets },
      { ...network, nodes },
      { ...network, outlets, nodes },
    ]) {
      solve(changed, before);
      for (const asked of [network, changed]) {
        const warm = solve(asked, before);
        const cold = solve(asked);
        sound(warm);
        for (let v = 0; v < cold.headM.length; v++) expect(warm.headM[v]!).toBeCloseTo(cold.headM[v]!, 7);
        for (let k = 0; k < cold.outletM3s.length; k++) {
          expect(m3sToLph(warm.outletM3s[k]!)).toBeCloseTo(m3sToLph(cold.outletM3s[k]!), 6);
        }
      }
    }
  });

  test('one pipe after the other, each from the answer before, stays on the answer of a cold start', () => {
    for (const looped of [false, true]) {
      let network = rowsOnHeader(6, 20, looped);
      let last = solve(network);
      for (let i = 0; i < network.links.count; i += 3) {
        const lengthM = network.links.lengthM.slice();
        lengthM[i] = [0, 30, 0.001, 4][i % 4]!;
        network = { ...network, links: { ...network.links, lengthM } };
        last = solve(network, last);
        sound(last);
        const cold = solve(network);
        for (let v = 0; v < cold.headM.length; v++)
          expect(Math.abs(last.headM[v]! - cold.headM[v]!)).toBeLessThan(1e-7);
      }
    }
  });

  test('an answer to another network of the same size is no hindrance, one of another size is not used', () => {
    const rows = rowsOnHeader(4, 10, false);
    const reversed = { ...rows, links: { ...rows.links, from: rows.links.to, to: rows.links.from } };
    const other = solve(
      lateral({ inletM: 5, count: rows.nodes.count - 1, spacingM: 1, boreMm: 6, k: 3, x: 0.5 }),
    );
    for (const start of [other, solve(rowsOnHeader(3, 3, false)), null]) {
      const solution = solve(reversed, start);
      sound(solution);
      expect(solution.flowM3s[0]).toBeLessThan(0);
    }
  });

  test('a part cut off and joined again', () => {
    const network = rowsOnHeader(4, 10, false);
    const whole = solve(network);
    const boreM = network.links.boreM.slice();
    boreM[20] = NaN;
    const cut = solve({ ...network, links: { ...network.links, boreM } }, whole);
    expect(kinds(cut)).toContain('not-connected');
    const again = solve(network, cut);
    sound(again);
    for (let v = 0; v < whole.headM.length; v++) expect(again.headM[v]).toBeCloseTo(whole.headM[v]!, 7);
  });
});
