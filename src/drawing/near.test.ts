import fc from 'fast-check';
import { expect, test } from 'vitest';
import { distance, type Point } from '../base/point.ts';
import { Table } from '../base/table.ts';
import { nearIn } from './near.ts';

interface Disc {
  readonly id: string;
  readonly at: Point;
  readonly r: number;
}
const boxOf = ({ at: [x, y], r }: Disc) =>
  r < 0 ? null : { minX: x - r, minY: y - r, maxX: x + r, maxY: y + r };
const number = fc.double({ min: -50, max: 50, noNaN: true });
const discs = fc.array(fc.tuple(fc.tuple(number, number), fc.double({ min: 0, max: 5, noNaN: true })), {
  maxLength: 120,
});

test('finds every record whose box comes within reach, in the order of the table, and no far one among many', () => {
  fc.assert(
    fc.property(
      discs,
      fc.tuple(number, number),
      fc.double({ min: 0, max: 8, noNaN: true }),
      (all, at, reach) => {
        const table = Table.of(all.map(([place, r], i): Disc => ({ id: String(i), at: place, r })));
        const found = nearIn(boxOf)(table, at, reach).map(({ id }) => Number(id));
        const must = [...table]
          .filter(({ at: place, r }) => distance(place, at) <= r + reach)
          .map(({ id }) => Number(id));
        expect(found).toEqual(found.toSorted((a, b) => a - b));
        for (const i of must) expect(found).toContain(i);
        if (all.length < 32) return;
        for (const i of found) {
          const [[x, y], r] = all[i]!;
          expect(Math.max(Math.abs(x - at[0]), Math.abs(y - at[1]))).toBeLessThanOrEqual(r + reach + 1e-9);
        }
      },
    ),
    { seed: 5, numRuns: 200 },
  );
});

test('a record that lies nowhere is never found, and a changed table is looked through anew', () => {
  const near = nearIn(boxOf);
  const many = Table.of(
    Array.from({ length: 60 }, (_, i): Disc => ({ id: `d${i}`, at: [i, 0], r: i === 7 ? -1 : 0.2 })),
  );
  expect(near(many, [7, 0], 0.5)).toEqual([]);
  expect(near(many, [8, 0], 0.5).map(({ id }) => id)).toEqual(['d8']);
  const moved = many.with({ id: 'd8', at: [30.5, 0], r: 0.2 });
  expect(near(moved, [8, 0], 0.5)).toEqual([]);
  expect(near(moved, [30.5, 0], 0.1).map(({ id }) => id)).toEqual(['d8']);
});
