/** One value of several records: the value, or that they differ. */
export type Alike<V> =
  { readonly value: V; readonly differ: false } | { readonly value: null; readonly differ: true };

/** What several records have in common in one respect. `records` must not be empty. */
export function alike<R, V extends string | number | boolean | null>(
  records: readonly R[],
  of: (record: R) => V,
): Alike<V> {
  const value = of(records[0]!);
  return records.every((record) => of(record) === value)
    ? { value, differ: false }
    : { value: null, differ: true };
}
