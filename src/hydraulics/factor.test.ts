import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { generated, numbers, rowsOnHeader } from './samples/generated.ts';
import { backward, changeOne, eliminate, forward, type Equations } from './factor.ts';
import { buildGraph } from './graph.ts';
import type { Network } from './network.ts';
import { buildOrdering, type Ordering } from './ordering.ts';

function ordered({ nodes, links }: Network): Ordering {
  const fixed = Uint8Array.from(nodes.fixedHeadM, (h) => (Number.isNaN(h) ? 0 : 1));
  const graph = buildGraph(nodes.count, links, new Uint8Array(links.count).fill(1), fixed);
  return buildOrdering(
    graph,
    links,
    fixed.map((f) => 1 - f),
  );
}

/** Equations of conductances along the links, by link position; head 0 at held nodes. */
function equations(ordering: Ordering, c: Float64Array): Equations {
  const { free, linkStart, linkSlot, later, sequence } = ordering;
  const eq = {
    ordering,
    mutual: new Float64Array(later.length),
    ground: new Float64Array(sequence.length),
    pivotInverse: new Float64Array(sequence.length),
  };
  for (let k = 0; k < free; k++) {
    for (let p = linkStart[k]!; p < linkStart[k + 1]!; p++) {
      if (linkSlot[p]! >= 0) eq.mutual[linkSlot[p]!]! += c[p]!;
      else eq.ground[k]! += c[p]!;
    }
  }
  return eq;
}

/** Ends of a link by position of the nodes. */
function ends({ links }: Network, { linkAt, position }: Ordering, p: number): [number, number] {
  return [position[links.from[linkAt[p]!]!]!, position[links.to[linkAt[p]!]!]!];
}

/** What the equations make of x. */
function product(network: Network, ordering: Ordering, c: Float64Array, x: Float64Array): Float64Array {
  const b = new Float64Array(x.length);
  for (let p = 0; p < c.length; p++) {
    const [i, j] = ends(network, ordering, p);
    b[i]! += c[p]! * (x[i]! - x[j]!);
    b[j]! += c[p]! * (x[j]! - x[i]!);
  }
  return b;
}

describe('order of elimination', () => {
  test('a tree gets no fill: no node but the last ones keeps more than one later neighbour', () => {
    const { column, free, pairSlot } = ordered(rowsOnHeader(30, 40, false));
    expect(free).toBe(30 * 41);
    expect(pairSlot.length).toBe(0);
    expect(column[free]).toBe(free - 1);
  });

  test('every node and every link goes once; later neighbours come later', () => {
    for (let seed = 1; seed < 60; seed++) {
      const network =
        seed === 1
          ? rowsOnHeader(12, 15, true)
          : generated({ seed, joints: 3 * seed, loops: seed % 9, exponent: 1, reliefM: 0, regulator: false });
      const { free, column, later, sequence, position, linkAt, linkStart, linkSlot } = ordered(network);
      expect([...sequence].sort((a, b) => a - b)).toEqual(
        Array.from({ length: network.nodes.count }, (_, v) => v),
      );
      expect([...linkAt].sort((a, b) => a - b)).toEqual(
        Array.from({ length: network.links.count }, (_, l) => l),
      );
      for (let k = 0; k < free; k++) {
        expect(position[sequence[k]!]).toBe(k);
        for (let s = column[k]!; s < column[k + 1]!; s++) expect(later[s]!).toBeGreaterThan(k);
        for (let p = linkStart[k]!; p < linkStart[k + 1]!; p++) {
          const v = sequence[k]!;
          const l = linkAt[p]!;
          expect([network.links.from[l], network.links.to[l]]).toContain(v);
          const other =
            position[network.links.from[l] === v ? network.links.to[l]! : network.links.from[l]!]!;
          if (other < free) expect(later[linkSlot[p]!]).toBe(other);
          else expect(linkSlot[p]).toBe(-1);
        }
      }
    }
  });

  test('a ladder of rows gets little fill', () => {
    const network = rowsOnHeader(200, 50, true);
    const { later } = ordered(network);
    expect(later.length).toBeLessThan(2.5 * network.nodes.count);
  });
});

describe('elimination', () => {
  const cases = fc.tuple(
    fc.integer({ min: 1, max: 1e6 }),
    fc.integer({ min: 1, max: 60 }),
    fc.integer({ min: 0, max: 90 }),
  );
  const made = (seed: number, joints: number, loops: number) => {
    const network = generated({ seed, joints, loops, exponent: 0.5, reliefM: 0, regulator: false });
    const ordering = ordered(network);
    const next = numbers(seed);
    const x = Float64Array.from({ length: network.nodes.count }, (_, k) => (k < ordering.free ? next() : 0));
    return { network, ordering, next, x };
  };
  const solved = (eq: Equations, right: Float64Array): Float64Array => {
    const found = new Float64Array(right.length);
    for (let k = 0; k < eq.ordering.free; k++) eliminate(eq, k, right);
    backward(eq, right, found);
    return found;
  };

  test('solves the equations of any network of conductances', () => {
    fc.assert(
      fc.property(cases, ([seed, joints, loops]) => {
        const { network, ordering, next, x } = made(seed, joints, loops);
        // From closed valves to open ones.
        const c = Float64Array.from({ length: network.links.count }, () => 10 ** (-18 * next() + 3));
        const b = product(network, ordering, c, x);
        const eq = equations(ordering, c);
        const found = solved(eq, b.slice());
        const again = b.slice();
        forward(eq, again);
        backward(eq, again, again);
        const got = product(network, ordering, c, found);
        const size = new Float64Array(x.length);
        for (let p = 0; p < c.length; p++) {
          const [i, j] = ends(network, ordering, p);
          const part = c[p]! * (Math.abs(found[i]!) + Math.abs(found[j]!));
          size[i]! += part;
          size[j]! += part;
        }
        for (let k = 0; k < ordering.free; k++) {
          expect(Math.abs(got[k]! - b[k]!)).toBeLessThanOrEqual(1e-12 * (size[k]! + Math.abs(b[k]!)));
          expect(Math.abs(again[k]! - found[k]!)).toBeLessThanOrEqual(1e-9 * Math.abs(found[k]!) + 1e-12);
        }
      }),
      { seed: 99 },
    );
  });

  test('one conductance more and another right side there need no elimination', () => {
    fc.assert(
      fc.property(cases, ([seed, joints, loops]) => {
        const { network, ordering, next, x } = made(seed, joints, loops);
        const c = Float64Array.from({ length: network.links.count }, () => 10 ** (2 * next() - 1));
        const b = product(network, ordering, c, x);
        const p = Math.floor(next() * c.length);
        const more = c[p]! * (4 * next() - 0.9);
        const push = next() - 0.5;
        const ofP = ends(network, ordering, p);
        const k = Math.min(...ofP);
        const o = Math.max(...ofP);

        const eq = equations(ordering, c);
        const right = b.slice();
        solved(eq, right);
        expect(changeOne(eq, k, ordering.linkSlot[p]!, more, push, right)).toBe(true);
        const quick = new Float64Array(x.length);
        backward(eq, right, quick);

        const changed = c.slice();
        changed[p]! += more;
        b[k]! -= push;
        b[o]! += push;
        const found = solved(equations(ordering, changed), b);
        for (let i = 0; i < ordering.free; i++) expect(Math.abs(quick[i]! - found[i]!)).toBeLessThan(1e-9);
      }),
      { seed: 98 },
    );
  });
});
