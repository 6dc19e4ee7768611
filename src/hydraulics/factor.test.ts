import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { generated, numbers, rowsOnHeader } from './samples/generated.ts';
import { factor, substitute } from './factor.ts';
import { buildGraph } from './graph.ts';
import type { Network } from './network.ts';
import { buildOrdering } from './ordering.ts';

function ordered({ nodes, links }: Network) {
  const fixed = Uint8Array.from(nodes.fixedHeadM, (h) => (Number.isNaN(h) ? 0 : 1));
  const graph = buildGraph(nodes.count, links, new Uint8Array(links.count).fill(1), fixed);
  return buildOrdering(
    graph,
    links,
    fixed.map((f) => 1 - f),
  );
}

describe('order of elimination', () => {
  test('a tree gets no fill: no node but the last ones keeps more than one later neighbour', () => {
    const tree = ordered(rowsOnHeader(30, 40, false));
    const { column, sequence, pairSlot } = tree;
    expect(sequence.length).toBe(30 * 41);
    expect(pairSlot.length).toBe(0);
    expect(column[sequence.length]).toBe(sequence.length - 1);
  });

  test('every node goes once; later neighbours come later', () => {
    const { column, later, sequence } = ordered(rowsOnHeader(12, 15, true));
    const place = new Map([...sequence].map((v, k) => [v, k]));
    expect(place.size).toBe(sequence.length);
    for (let k = 0; k < sequence.length; k++) {
      for (let s = column[k]!; s < column[k + 1]!; s++) expect(place.get(later[s]!)!).toBeGreaterThan(k);
    }
  });

  test('a ladder of rows gets little fill', () => {
    const network = rowsOnHeader(200, 50, true);
    const { later } = ordered(network);
    expect(later.length).toBeLessThan(2.5 * network.nodes.count);
  });
});

describe('elimination', () => {
  test('solves the equations of any network of conductances', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1e6 }),
        fc.integer({ min: 1, max: 60 }),
        fc.integer({ min: 0, max: 90 }),
        (seed, joints, loops) => {
          const network = generated({ seed, joints, loops, exponent: 0.5, reliefM: 0, regulator: false });
          const ordering = ordered(network);
          const { from, to, count } = network.links;
          const n = network.nodes.count;
          const next = numbers(seed);
          // From closed valves to open ones.
          const c = Float64Array.from({ length: count }, () => 10 ** (-18 * next() + 3));
          const x = Float64Array.from({ length: n }, (_, v) => (v === 0 ? 0 : next()));
          const mutual = new Float64Array(ordering.later.length);
          const ground = new Float64Array(n);
          const b = new Float64Array(n);
          for (let l = 0; l < count; l++) {
            const [i, j] = [from[l]!, to[l]!];
            b[i]! += c[l]! * (x[i]! - x[j]!);
            b[j]! += c[l]! * (x[j]! - x[i]!);
            if (i === 0) ground[j]! += c[l]!;
            else if (j === 0) ground[i]! += c[l]!;
            else mutual[ordering.linkSlot[l]!]! += c[l]!;
          }
          const right = b.slice();
          const pivotInverse = new Float64Array(n);
          const found = new Float64Array(n);
          factor(ordering, mutual, ground, pivotInverse);
          substitute(ordering, mutual, ground, pivotInverse, right, found);
          for (let v = 1; v < n; v++) {
            let sum = 0;
            let size = 0;
            for (let l = 0; l < count; l++) {
              if (from[l] !== v && to[l] !== v) continue;
              const other = from[l] === v ? to[l]! : from[l]!;
              sum += c[l]! * (found[v]! - found[other]!);
              size += c[l]! * (Math.abs(found[v]!) + Math.abs(found[other]!));
            }
            expect(Math.abs(sum - b[v]!)).toBeLessThanOrEqual(1e-12 * (size + Math.abs(b[v]!)));
          }
        },
      ),
      { seed: 99 },
    );
  });
});
