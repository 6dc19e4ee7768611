import { OrderedMap } from 'immutable';

/** What makes one table of another, as plain data: records that stay are not in it. */
export interface TableChanges<T> {
  /** Ids that go. */
  readonly gone: readonly string[];
  /** Records that are new, or replace the one of the same id. */
  readonly put: readonly T[];
  /**
   * Where the order is not what leaving out and putting gives: by place in the new table, the place in the old one, or
   * -1 - k for `put[k]`.
   */
  readonly order: Int32Array | null;
}

/**
 * Records by id, in the order in which they were added. Immutable: a change gives a new table that shares all
 * but a few nodes with the old one, so a history of thousands of plans stays small.
 */
export class Table<T extends { readonly id: string }> implements Iterable<T> {
  private constructor(private readonly records: OrderedMap<string, T>) {}

  static of<T extends { readonly id: string }>(records: Iterable<T> = []): Table<T> {
    return new Table(OrderedMap<string, T>([...records].map((record) => [record.id, record] as const)));
  }

  get size(): number {
    return this.records.size;
  }

  get(id: string): T | undefined {
    return this.records.get(id);
  }

  has(id: string): boolean {
    return this.records.has(id);
  }

  [Symbol.iterator](): Iterator<T> {
    return this.records.values();
  }

  /** Adds the records, or replaces those with the same id in their old place. */
  with(...records: readonly T[]): Table<T> {
    return new Table(this.records.withMutations((map) => records.forEach((r) => map.set(r.id, r))));
  }

  /** Leaves out the ids; unknown ids are ignored. Gives the same table when nothing goes. */
  without(ids: Iterable<string>): Table<T> {
    const next = this.records.deleteAll(ids);
    return next === this.records ? this : new Table(next);
  }

  /**
   * What has to be done to this table to get `next`, records told apart by identity: `this.withChanges(changes)` holds
   * the records of `next` in their order. One walk through both tables.
   */
  changesTo(next: Table<T>): TableChanges<T> {
    const gone: string[] = [];
    const put: T[] = [];
    if (next === this) return { gone, put, order: null };
    const old = this.records.values();
    const fresh = next.records.values();
    let a = old.next();
    let b = fresh.next();
    while (!a.done) {
      if (!b.done && a.value === b.value) {
        b = fresh.next();
      } else if (!b.done && a.value.id === b.value.id) {
        put.push(b.value);
        b = fresh.next();
      } else if (next.has(a.value.id)) {
        return this.reordered(next, gone);
      } else gone.push(a.value.id);
      a = old.next();
    }
    for (; !b.done; b = fresh.next()) put.push(b.value);
    return { gone, put, order: null };
  }

  /** The same where records have changed places or new ones stand between old ones. */
  private reordered(next: Table<T>, gone: string[]): TableChanges<T> {
    const place = new Map<string, number>();
    gone.length = 0;
    for (const { id } of this) {
      place.set(id, place.size);
      if (!next.has(id)) gone.push(id);
    }
    const put: T[] = [];
    const order = new Int32Array(next.size);
    let at = 0;
    for (const record of next) {
      const stays = this.get(record.id) === record;
      order[at++] = stays ? place.get(record.id)! : -put.push(record);
    }
    return { gone, put, order };
  }

  /** The table that `changesTo` was asked for, from a table with the same ids in the same order as it was asked of. */
  withChanges({ gone, put, order }: TableChanges<T>): Table<T> {
    if (!order) return gone.length + put.length === 0 ? this : this.without(gone).with(...put);
    const old = this.toArray();
    return Table.of(Array.from(order, (from) => (from < 0 ? put[-1 - from]! : old[from]!)));
  }

  toArray(): T[] {
    return [...this.records.values()];
  }
}
