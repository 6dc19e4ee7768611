import { OrderedMap } from 'immutable';

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

  toArray(): T[] {
    return [...this.records.values()];
  }
}
