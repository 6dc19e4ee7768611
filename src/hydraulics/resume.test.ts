import { describe, expect, test } from 'vitest';
import { m3sToLph, solve } from './index.ts';
import { lateral } from './samples/build.ts';
import { rowsOnHeader } from './samples/generated.ts';
import { faults, kinds } from './samples/parts.ts';

describe('warm start', () => {
  test('one changed length gives the answer of a cold start, in fewer passes', () => {
    const network = rowsOnHeader(20, 50, true);
    const before = solve(network);
    const lengthM = network.links.lengthM.slice();
    lengthM[500] = 2;
    const changed = { ...network, links: { ...network.links, lengthM } };
    const warm = solve(changed, before);
    const cold = solve(changed);
    expect(faults(warm)).toEqual([]);
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
        expect(faults(warm)).toEqual([]);
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
        expect(faults(warm)).toEqual([]);
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
        expect(faults(last)).toEqual([]);
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
      expect(faults(solution)).toEqual([]);
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
    expect(faults(again)).toEqual([]);
    for (let v = 0; v < whole.headM.length; v++) expect(again.headM[v]).toBeCloseTo(whole.headM[v]!, 7);
  });
});
