import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Table } from './table.ts';

interface Row {
  readonly id: string;
  readonly n: number;
}
const rows = (...list: [string, number][]): Row[] => list.map(([id, n]) => ({ id, n }));

describe('Table', () => {
  test('keeps the order in which records were added, also when one is replaced', () => {
    const table = Table.of(rows(['b', 1], ['a', 2], ['c', 3])).with({ id: 'a', n: 9 }, { id: 'd', n: 4 });
    expect(table.toArray()).toEqual(rows(['b', 1], ['a', 9], ['c', 3], ['d', 4]));
    expect([...table].map((row) => row.id)).toEqual(['b', 'a', 'c', 'd']);
    expect(table.size).toBe(4);
  });

  test('a change leaves the old table as it was', () => {
    const before = Table.of(rows(['a', 1]));
    const after = before.with({ id: 'a', n: 2 }).without(['x']);
    expect(before.get('a')?.n).toBe(1);
    expect(after.get('a')?.n).toBe(2);
    expect(before.get('none')).toBeUndefined();
    expect(before.has('none')).toBe(false);
  });

  test('leaving out what is not there gives the same table', () => {
    const table = Table.of(rows(['a', 1], ['b', 2]));
    expect(table.without(['x'])).toBe(table);
    expect(table.without(['a', 'x']).toArray()).toEqual(rows(['b', 2]));
  });

  test('of two records with one id the later is kept', () => {
    expect(Table.of(rows(['a', 1], ['a', 2])).toArray()).toEqual(rows(['a', 2]));
  });

  test('keeps its order through thousands of removals', () => {
    let table = Table.of(rows(...Array.from({ length: 5000 }, (_, n): [string, number] => [`r${n}`, n])));
    for (let n = 0; n < 5000; n += 2) table = table.without([`r${n}`]);
    const left = table.toArray().map((row) => row.n);
    expect(left).toEqual(Array.from({ length: 2500 }, (_, n) => 2 * n + 1));
  });
});

describe('what makes one table of another', () => {
  interface Item {
    readonly id: string;
    readonly n: number;
  }
  const item = (id: string, n = 0): Item => ({ id, n });
  const [a, b, c, d] = ['a', 'b', 'c', 'd'].map((id) => item(id));
  const all = Table.of([a!, b!, c!]);

  test('is only what changed', () => {
    const moved = item('b', 1);
    expect(all.changesTo(all)).toEqual({ gone: [], put: [], order: null });
    expect(all.changesTo(all.with(moved, d!))).toEqual({ gone: [], put: [moved, d], order: null });
    expect(all.changesTo(all.without(['a', 'c']))).toEqual({ gone: ['a', 'c'], put: [], order: null });
  });

  test('a record that comes back between others, as by undo, is sent alone with the order', () => {
    const changes = all.without(['b']).changesTo(all);
    expect(changes).toEqual({ gone: [], put: [b], order: Int32Array.of(0, -1, 1) });
  });

  test('rebuilds the table after any edits, order and identity included', () => {
    const edit = fc.oneof(
      fc.record({ put: fc.array(fc.integer({ min: 0, max: 12 }), { maxLength: 4 }) }),
      fc.record({ drop: fc.array(fc.integer({ min: 0, max: 12 }), { maxLength: 4 }) }),
      fc.record({ shuffle: fc.array(fc.integer({ min: 0, max: 12 }), { maxLength: 9 }) }),
    );
    let made = 0;
    fc.assert(
      fc.property(fc.array(fc.array(edit, { maxLength: 4 }), { maxLength: 6 }), (gestures) => {
        let table = Table.of<Item>([]);
        let mirror = table;
        for (const edits of gestures) {
          const before = table;
          for (const one of edits) {
            if ('put' in one) table = table.with(...one.put.map((n) => item(`i${n}`, made++)));
            else if ('drop' in one) table = table.without(one.drop.map((n) => `i${n}`));
            else table = Table.of([...one.shuffle.flatMap((n) => table.get(`i${n}`) ?? []), ...table]);
          }
          mirror = mirror.withChanges(before.changesTo(table));
          const [got, wanted] = [mirror.toArray(), table.toArray()];
          expect(got.length).toBe(wanted.length);
          got.forEach((record, i) => expect(record).toBe(wanted[i]));
          expect(mirror.size).toBe(table.size);
        }
      }),
      { seed: 20261125, numRuns: 400 },
    );
  });
});
