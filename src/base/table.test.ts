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
