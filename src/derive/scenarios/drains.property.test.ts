import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { drainsOf, type DrainGraph } from './drains.ts';

const settings = { seed: 20260, numRuns: 150 };
/** Few heights, so that level pipes and outlets of one height are common. */
const height = fc.integer({ min: 0, max: 8 }).map((n) => n / 4);

const graph: fc.Arbitrary<DrainGraph> = fc.integer({ min: 2, max: 8 }).chain((count) => {
  const node = fc.integer({ min: 0, max: count - 1 });
  return fc
    .record({
      zM: fc.array(height, { minLength: count, maxLength: count }),
      edges: fc
        .array(
          fc.record({
            a: node,
            b: node,
            volumeL: fc.double({ min: 0.1, max: 3, noNaN: true }),
            onlyAToB: fc.boolean(),
            openM: fc.constantFrom(0, 0, 0.3),
          }),
          { maxLength: 12 },
        )
        .map((edges) =>
          edges
            .filter(({ a, b }) => a !== b)
            // Water lies in pipes; a check valve is a place.
            .map((edge) => (edge.onlyAToB ? { ...edge, volumeL: 0 } : { ...edge, openM: 0 })),
        ),
      outlets: fc.array(
        fc.record({ node, rise: fc.constantFrom(0, 0, 0.2), closingM: fc.constantFrom(0, 0, 0.6) }),
        {
          maxLength: 5,
        },
      ),
    })
    .map(({ zM, edges, outlets }) => ({
      zM,
      edges,
      outlets: outlets.map(({ node: n, rise, closingM }) => ({ node: n, zM: zM[n]! + rise, closingM })),
    }));
});

/** Where water at a height in a pipe goes, by walking all ways that do not rise above it. */
function walk({ zM, edges, outlets }: DrainGraph, from: number, z: number): number {
  if (zM[from]! > z) return -1;
  const seen = new Set([from]);
  const open = [from];
  while (open.length > 0) {
    const v = open.pop()!;
    for (const { a, b, onlyAToB, openM } of edges) {
      if (v !== a && v !== b) continue;
      if (onlyAToB && v === b) continue;
      const u = v === a ? b : a;
      if (seen.has(u) || zM[u]! > z || (onlyAToB && zM[v]! + openM > z)) continue;
      seen.add(u);
      open.push(u);
    }
  }
  let best = -1;
  const level = (i: number): number => outlets[i]!.zM + outlets[i]!.closingM;
  outlets.forEach((outlet, i) => {
    if (!seen.has(outlet.node) || outlet.zM > z || level(i) >= z) return;
    if (best < 0 || level(i) < level(best)) best = i;
  });
  return best;
}

const sum = (values: ArrayLike<number>): number => Array.from(values).reduce((a, b) => a + b, 0);

describe('what drains where', () => {
  test('drained and held water together fill the tubing', () => {
    fc.assert(
      fc.property(graph, (g) => {
        const { volumeL, heldL, totalL } = drainsOf(g);
        expect(sum(volumeL) + heldL).toBeCloseTo(totalL, 9);
        expect(totalL).toBeCloseTo(sum(g.edges.map((edge) => edge.volumeL)), 9);
        expect(heldL).toBeGreaterThanOrEqual(-1e-9);
        expect([...volumeL].every((v) => v >= 0)).toBe(true);
      }),
      settings,
    );
  });
  test('slice by slice it is what walking down all ways gives', () => {
    fc.assert(
      fc.property(graph, (g) => {
        const expected = new Float64Array(g.outlets.length);
        for (const edge of g.edges) {
          const low = g.zM[edge.a]! <= g.zM[edge.b]! ? edge.a : edge.b;
          const bottom = g.zM[low]!;
          const rise = Math.max(g.zM[edge.a]!, g.zM[edge.b]!) - bottom;
          // All heights are twentieths of a metre: slices of a hundredth never lie across one.
          const slices = rise === 0 ? 1 : Math.round(rise * 100);
          for (let k = 0; k < slices; k++) {
            const z = bottom + (rise === 0 ? 0 : ((k + 0.5) / slices) * rise);
            const outlet = walk(g, low, z);
            if (outlet >= 0) expected[outlet]! += edge.volumeL / slices;
          }
        }
        const { volumeL } = drainsOf(g);
        // Outlets of one height may share otherwise; together they drain the same.
        const byLevel = (volumes: Float64Array): Map<string, number> => {
          const map = new Map<string, number>();
          g.outlets.forEach(({ zM, closingM }, i) => {
            const key = (zM + closingM).toFixed(6);
            map.set(key, (map.get(key) ?? 0) + volumes[i]!);
          });
          return map;
        };
        const own = byLevel(volumeL);
        for (const [key, volume] of byLevel(expected)) expect(own.get(key)).toBeCloseTo(volume, 6);
      }),
      settings,
    );
  });
  test('a check valve never makes the lowest outlet drain more', () => {
    fc.assert(
      fc.property(graph, fc.nat(), fc.boolean(), (g, pick, turned) => {
        const pipes = g.edges.flatMap((edge, i) => (edge.onlyAToB ? [] : [i]));
        fc.pre(pipes.length > 0 && g.outlets.length > 0);
        const at = pipes[pick % pipes.length]!;
        const cut = g.edges[at]!;
        // The pipe in two halves with a valve between them, first without, then with it.
        const middle = g.zM.length;
        const zM = [...g.zM, (g.zM[cut.a]! + g.zM[cut.b]!) / 2, (g.zM[cut.a]! + g.zM[cut.b]!) / 2];
        const half = { volumeL: cut.volumeL / 2, onlyAToB: false, openM: 0 };
        const parted = (valve: boolean): DrainGraph => ({
          ...g,
          zM,
          edges: [
            ...g.edges.filter((_, i) => i !== at),
            { ...half, a: cut.a, b: middle },
            { ...half, a: middle + 1, b: cut.b },
            {
              a: turned ? middle + 1 : middle,
              b: turned ? middle : middle + 1,
              volumeL: 0,
              onlyAToB: valve,
              openM: 0,
            },
          ],
        });
        const level = (i: number): number => g.outlets[i]!.zM + g.outlets[i]!.closingM;
        const lowest = Math.min(...g.outlets.map((_, i) => level(i)));
        const drained = (valve: boolean): number => {
          const { volumeL } = drainsOf(parted(valve));
          return sum(g.outlets.map((_, i) => (level(i) === lowest ? volumeL[i]! : 0)));
        };
        expect(drained(true)).toBeLessThanOrEqual(drained(false) + 1e-9);
      }),
      settings,
    );
  });
  test('on level ground nothing drains', () => {
    fc.assert(
      fc.property(graph, (g) => {
        const flat = { ...g, zM: g.zM.map(() => 1), outlets: g.outlets.map((o) => ({ ...o, zM: 1 })) };
        const { volumeL, heldL, totalL } = drainsOf(flat);
        expect(sum(volumeL)).toBe(0);
        expect(heldL).toBeCloseTo(totalL, 9);
      }),
      settings,
    );
  });
});
