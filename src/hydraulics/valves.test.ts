import { describe, expect, test } from 'vitest';
import { LINK, m3sToLph, solve } from './index.ts';
import { networkOf } from './samples/build.ts';
import { faults, finding, kinds, outlet, reversedPipes, withPart } from './samples/parts.ts';

describe('regulator', () => {
  const regulator = { from: 'S', to: 'A', kind: LINK.regulator, settingM: 15 };

  test('holds its setting above the level of its outlet', () => {
    const solution = solve(
      withPart(regulator, { nodes: [{ id: 'S', fixedHeadM: 30 }, { id: 'A', zM: 2 }, { id: 'B' }] }),
    );
    expect(faults(solution)).toEqual([]);
    expect(solution.headM[1]).toBe(17);
    expect(kinds(solution)).toEqual([]);
  });

  test('stands open when the pressure before it is too low, loses head by its curve, and is named', () => {
    const curves = [{ flowM3s: Float64Array.of(0, 1e-5, 1e-4), lossM: Float64Array.of(0, 2, 8) }];
    const solution = solve(withPart({ ...regulator, curve: 0 }, { curves }, 12));
    expect(faults(solution)).toEqual([]);
    expect(finding(solution, 'regulator-open')?.links).toEqual([0]);
    const loss = 12 - solution.headM[1]!;
    expect(loss).toBeGreaterThan(1);
    expect(loss).toBeLessThan(4);
  });

  test('opens when its own loss leaves too little, although the source alone would do', () => {
    const curves = [{ flowM3s: Float64Array.of(0, 1e-5), lossM: Float64Array.of(0, 4) }];
    const solution = solve(withPart({ ...regulator, curve: 0 }, { curves }, 16));
    expect(faults(solution)).toEqual([]);
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
    expect(faults(solution)).toEqual([]);
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
    expect(faults(solution)).toEqual([]);
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
    expect(faults(solution)).toEqual([]);
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
    expect(faults(solution)).toEqual([]);
    expect(solution.headM[1]).toBe(15);
    expect(solution.flowM3s[1]).toBeGreaterThan(0);
  });

  test('a changed setting is found from a warm start', () => {
    const cold = solve(withPart(regulator));
    const changed = withPart({ ...regulator, settingM: 12 });
    const warm = solve(changed, cold);
    expect(faults(warm)).toEqual([]);
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
    expect(faults(solution)).toEqual([]);
    expect(solution.flowM3s[0]).toBe(0);
    expect(solution.flowM3s[1]).toBeCloseTo(solution.outletM3s[0]!, 13);
  });

  test('lets water through forward, hardly losing head', () => {
    const solution = solve(ring(30, 20));
    expect(faults(solution)).toEqual([]);
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
    expect(faults(solution)).toEqual([]);
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
      expect(faults(solution)).toEqual([]);
      expect(30 - solution.headM[1]!).toBeCloseTo(2.5, 5);
    }
  });

  test('without flow it keeps back what it takes to open', () => {
    const solution = solve(withPart(part, { curves, outlets: [] }));
    expect(faults(solution)).toEqual([]);
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
    expect(faults(shut)).toEqual([]);
    expect(shut.flowM3s[0]).toBe(0);
    expect(shut.flowM3s[1]).toBeCloseTo(shut.outletM3s[0]!, 13);
    const open = between(17);
    expect(faults(open)).toEqual([]);
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
