import type { Table } from '../../base/table.ts';

/**
 * Remembers the last table and gives it again for one whose records are the same in all that matters, in the same
 * order. What is computed from the answer with `memo` is then not computed anew: choosing a tie-in changes only what
 * becomes of heads and pipes, not how they lie.
 * @param same whether two records of one id that are not the same object are alike in what matters
 */
export function steadyTable<T extends { readonly id: string }>(
  same: (a: T, b: T) => boolean,
): (table: Table<T>) => Table<T> {
  let kept: Table<T> | null = null;
  let seen: Table<T> | null = null;
  return (table) => {
    if (kept && (table === seen || isAlike(kept, table, same))) {
      seen = table;
      return kept;
    }
    kept = seen = table;
    return table;
  };
}

function isAlike<T extends { readonly id: string }>(
  a: Table<T>,
  b: Table<T>,
  same: (a: T, b: T) => boolean,
): boolean {
  if (a.size !== b.size) return false;
  const others = b[Symbol.iterator]();
  for (const one of a) {
    const other = others.next().value as T;
    if (one !== other && (one.id !== other.id || !same(one, other))) return false;
  }
  return true;
}

/** Whether two records have the same fields with the same values, all but their fate. */
export function alikeButFate<T extends { readonly fate: unknown }>(a: T, b: T): boolean {
  const keys = Object.keys(a) as (keyof T)[];
  return (
    keys.length === Object.keys(b).length && keys.every((key) => key === 'fate' || Object.is(a[key], b[key]))
  );
}
