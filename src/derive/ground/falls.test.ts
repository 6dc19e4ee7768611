import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { distance, type Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import type { Fall, Level } from '../../plan/records.ts';
import { dropOf, groundOf, percentOf } from './index.ts';

const level = (id: string, at: Point, zM: number): Level => ({ id, at, zM });
const drop = (id: string, from: Point, to: Point, dropM: number): Fall => ({
  id,
  from,
  to,
  by: { kind: 'drop', dropM },
});
const slope = (id: string, from: Point, to: Point, percent: number): Fall => ({
  id,
  from,
  to,
  by: { kind: 'slope', percent },
});
const ground = (falls: readonly Fall[], levels: readonly Level[] = []) =>
  groundOf({ levels: Table.of(levels), falls: Table.of(falls) });
const close = (value: number) => expect.closeTo(value, 9) as number;

describe('falls make the ground', () => {
  test('a slope arrow counts over the distance in plan', () => {
    const arrow = slope('S1', [0, 0], [3, 4], 8);
    expect(dropOf(arrow)).toBeCloseTo(0.4, 12);
    expect(percentOf(drop('S2', [0, 0], [3, 4], 0.4))).toBeCloseTo(8, 12);
  });
  test('one alone tilts the plane along it, level across, its upper end at 0', () => {
    const tilted = ground([slope('S1', [0, 0], [0, 10], 12)]);
    expect(tilted.knows).toBe('slope');
    expect(tilted.heightAt([0, 0]).zM).toBeCloseTo(0, 12);
    expect(tilted.heightAt([7, 5]).zM).toBeCloseTo(-0.6, 12);
    expect(tilted.slopeAt([-3, 4])).toEqual({ percent: close(12), fallDeg: close(90) });
    expect(tilted.heightAt([0, 20])).toEqual({ zM: close(-2.4), how: 'outside' });
  });
  test('a negative one has its upper end at its end', () => {
    const tilted = ground([drop('S1', [0, 0], [10, 0], -0.5)]);
    expect(tilted.heightAt([10, 3]).zM).toBeCloseTo(0, 12);
    expect(tilted.heightAt([0, 3]).zM).toBeCloseTo(-0.5, 12);
  });
  test('from a level on, end to end, with ends within 2 cm of each other', () => {
    const chain = ground(
      [drop('S1', [0.015, 0], [5, 0], 0.4), drop('S2', [5.01, 0.01], [5, 6], 0.25)],
      [level('Z1', [0, 0], 10)],
    );
    expect(chain.linked.spots).toHaveLength(3);
    expect(chain.heightAt([5, 0]).zM).toBeCloseTo(9.6, 9);
    expect(chain.heightAt([5, 6]).zM).toBeCloseTo(9.35, 9);
    expect(chain.linked.closures).toEqual([]);
  });
  test('farther apart than 2 cm they are two places', () => {
    const chain = ground(
      [drop('S1', [0, 0], [5, 0], 0.4), drop('S2', [5.03, 0], [5, 6], 0.25)],
      [level('Z1', [0, 0], 10)],
    );
    expect(chain.linked.spots).toHaveLength(4);
    expect(chain.linked.laidOn).toEqual([{ falls: ['S2'], at: [5.03, 0] }]);
  });
  test('one that touches nothing is laid on the ground of the others', () => {
    const slab = [level('Z1', [0, 0], 1), level('Z2', [10, 0], 1), level('Z3', [0, 10], 2)];
    const bent = ground([drop('S1', [2, 2], [4, 4], 0.3)], slab);
    expect(bent.linked.laidOn.map(({ falls }) => falls)).toEqual([['S1']]);
    expect(bent.heightAt([2, 2]).zM).toBeCloseTo(1.2, 9);
    expect(bent.heightAt([4, 4]).zM).toBeCloseTo(0.9, 9);
  });
  test('without levels the second group is laid on the first', () => {
    const both = ground([slope('S1', [0, 0], [10, 0], 10), drop('S2', [5, 2], [5, 8], 1)]);
    expect(both.heightAt([5, 2]).zM).toBeCloseTo(-0.5, 9);
    expect(both.heightAt([5, 8]).zM).toBeCloseTo(-1.5, 9);
  });
  test('one without length or with a figure that is no number is left out', () => {
    const odd = ground([
      drop('S1', [0, 0], [0.01, 0], 1),
      drop('S2', [0, 0], [5, 0], Number.NaN),
      slope('S3', [Number.NaN, 0], [5, 0], 2),
    ]);
    expect(odd.linked.leftOut).toEqual(['S1', 'S2', 'S3']);
    expect(odd.knows).toBe('nothing');
  });
});

describe('where more is measured than needed', () => {
  test('a chain between two levels: levels stay, the rest is shared out by length', () => {
    // 1.00 m by the levels, 1.06 m by the falls: 6 cm over 3 m + 9 m, so 1.5 cm and 4.5 cm.
    const chain = ground(
      [drop('S1', [0, 0], [3, 0], 0.5), drop('S2', [3, 0], [12, 0], 0.56)],
      [level('Z1', [0, 0], 2), level('Z2', [12, 0], 1)],
    );
    expect(chain.heightAt([3, 0]).zM).toBeCloseTo(1.5 + 0.015, 9);
    expect(chain.heightAt([12, 0]).zM).toBe(1);
    expect(chain.linked.closures).toEqual([
      { falls: ['S1', 'S2'], betweenLevels: true, misclosureM: close(0.06) },
    ]);
  });
  test('a ring of falls: the weighted differences are shared by length', () => {
    const corners: Point[] = [
      [0, 0],
      [4, 0],
      [4, 3],
    ];
    // Round the triangle 0.2 + 0.3 - 0.44 = 0.06 m are too many, over 4 + 3 + 5 m.
    const ring = ground([
      drop('S1', corners[0]!, corners[1]!, 0.2),
      drop('S2', corners[1]!, corners[2]!, 0.3),
      drop('S3', corners[2]!, corners[0]!, -0.44),
    ]);
    expect(ring.linked.closures).toEqual([
      { falls: ['S1', 'S2', 'S3'], betweenLevels: false, misclosureM: close(0.06) },
    ]);
    const z = corners.map((at) => ring.heightAt(at).zM);
    expect(z[0]! - z[1]!).toBeCloseTo(0.2 - 0.06 * (4 / 12), 9);
    expect(z[1]! - z[2]!).toBeCloseTo(0.3 - 0.06 * (3 / 12), 9);
    expect(z[2]! - z[0]!).toBeCloseTo(-0.44 - 0.06 * (5 / 12), 9);
  });
  test('two readings of one fall give their mean', () => {
    const twice = ground([drop('S1', [0, 0], [5, 0], 0.4), drop('S2', [0, 0], [5, 0], 0.5)]);
    expect(twice.heightAt([0, 0]).zM - twice.heightAt([5, 0]).zM).toBeCloseTo(0.45, 9);
    expect(twice.linked.closures).toEqual([
      { falls: ['S1', 'S2'], betweenLevels: false, misclosureM: close(0.1) },
    ]);
  });
  test('a fall between two levels changes nothing and is told', () => {
    const both = ground(
      [drop('S1', [0, 0], [5, 0], 0.4)],
      [level('Z1', [0, 0], 1), level('Z2', [5, 0], 0.5)],
    );
    expect(both.heightAt([5, 0]).zM).toBe(0.5);
    expect(both.linked.closures).toEqual([{ falls: ['S1'], betweenLevels: true, misclosureM: close(0.1) }]);
  });
});

describe('for any falls', () => {
  // Ends on a grid, so that they meet often.
  const end = fc.tuple(fc.integer({ min: 0, max: 4 }), fc.integer({ min: 0, max: 4 }));
  const links = fc.array(fc.tuple(end, end), { minLength: 1, maxLength: 20 });
  const settings = { seed: 31, numRuns: 150 };
  const heightOn = ([x, y]: Point) => 0.3 * Math.sin(x) + 0.2 * y - 0.05 * x * y;
  const true_ = (pairs: readonly (readonly [readonly number[], readonly number[]])[]): Fall[] =>
    pairs.map(([a, b], i) => {
      const from: Point = [a[0]! * 3, a[1]! * 3];
      const to: Point = [b[0]! * 3, b[1]! * 3];
      const dropM = heightOn(from) - heightOn(to);
      const far = distance(from, to);
      return i % 2 && far > 0
        ? slope(`S${i}`, from, to, (dropM / far) * 100)
        : drop(`S${i}`, from, to, dropM);
    });

  test('measured on true ground they close and give its differences back', () => {
    fc.assert(
      fc.property(links, (pairs) => {
        const falls = true_(pairs);
        const made = ground(falls);
        expect(made.linked.closures).toEqual([]);
        const placed = new Set(made.linked.leftOut);
        for (const fall of falls) {
          if (placed.has(fall.id)) continue;
          const dz = made.heightAt(fall.from).zM - made.heightAt(fall.to).zM;
          // A row of spots counts as one line up to a hundredth of its length across.
          if (made.linked.spots.length > 2) expect(Math.abs(dz - dropOf(fall))).toBeLessThan(1e-6);
        }
      }),
      settings,
    );
  });
  test('the order of tables does not matter; levels are kept whatever falls say', () => {
    fc.assert(
      fc.property(
        links,
        fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 20 }),
        (pairs, off) => {
          const falls = true_(pairs).map((fall, i) =>
            fall.by.kind === 'drop'
              ? { ...fall, by: { kind: 'drop' as const, dropM: fall.by.dropM + off[i]! } }
              : fall,
          );
          const levels = [level('Z1', [0, 0], 4), level('Z2', [12, 12], 5), level('Z3', [0, 12], 6)];
          const made = ground(falls, levels);
          for (const { at, zM } of levels) expect(made.heightAt(at).zM).toBeCloseTo(zM, 9);
          const other = ground(falls.toReversed(), levels.toReversed());
          const place: Point = [5.3, 7.1];
          expect(other.heightAt(place).zM).toBeCloseTo(made.heightAt(place).zM, 9);
          for (const { zM } of made.linked.spots) expect(Number.isFinite(zM)).toBe(true);
        },
      ),
      settings,
    );
  });
  test('heights are those of least squares: no single change makes the sum smaller', () => {
    fc.assert(
      fc.property(
        links,
        fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 20 }),
        (pairs, off) => {
          const falls = true_(pairs).map((fall, i) => ({
            ...fall,
            by: { kind: 'drop' as const, dropM: dropOf(fall) + off[i]! },
          }));
          const made = ground(falls, [level('Z1', [0, 0], 0)]);
          const left = new Set([...made.linked.leftOut]);
          const used = falls.filter(({ id }) => !left.has(id));
          const key = ([x, y]: Point) => `${Math.round(x)},${Math.round(y)}`;
          const z = new Map(made.linked.spots.map((spot) => [key([spot.x, spot.y]), spot.zM]));
          const loose = new Set(made.linked.laidOn.flatMap((group) => group.falls));
          for (const node of z.keys()) {
            if (node === '0,0') continue;
            const pulls = used.filter(
              ({ id, from, to }) => !loose.has(id) && (key(from) === node || key(to) === node),
            );
            // The derivative of the weighted sum of squares by this height is nought.
            const slopeOfSum = pulls.reduce((sum, { from, to, by }) => {
              const rest = (by as { dropM: number }).dropM - (z.get(key(from))! - z.get(key(to))!);
              return sum + ((key(from) === node ? 1 : -1) * rest) / distance(from, to);
            }, 0);
            expect(Math.abs(slopeOfSum)).toBeLessThan(1e-8);
          }
        },
      ),
      settings,
    );
  });
  test('a thousand falls in a net: each ring that is too many is told', () => {
    const falls: Fall[] = [];
    for (let i = 0; i < 25; i++) {
      for (let j = 0; j < 20; j++) {
        const off = Math.sin(i * 12.9 + j * 78.2) / 50;
        falls.push(drop(`E${i},${j}`, [i, j], [i + 1, j], 0.1 + off));
        falls.push(drop(`N${i},${j}`, [i, j], [i, j + 1], 0.2 - off));
      }
    }
    const made = ground(falls);
    expect(made.linked.closures.length).toBe(1000 - (made.linked.spots.length - 1));
  });
});
