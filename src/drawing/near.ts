import Flatbush from 'flatbush';
import type { Box, Point } from '../base/point.ts';
import type { Table } from '../base/table.ts';

interface Index<T> {
  readonly records: readonly T[];
  readonly bush: Flatbush | null;
}

/** Fewer records than this are looked through one by one. */
const WORTH_AN_INDEX = 32;

/**
 * Makes a search for the records of a table that come near a place. The index is made when it is first asked for and
 * kept as long as the table is: an edit replaces just the tables that it changes.
 * @param boxOf box round a record, metres; null for one that lies nowhere
 */
export function nearIn<T extends { readonly id: string }>(
  boxOf: (record: T) => Box | null,
): (table: Table<T>, at: Point, reachM: number) => readonly T[] {
  const known = new WeakMap<Table<T>, Index<T>>();
  const indexOf = (table: Table<T>): Index<T> => {
    const before = known.get(table);
    if (before) return before;
    const boxed = table.toArray().flatMap((record) => {
      const box = boxOf(record);
      return box ? [{ record, box }] : [];
    });
    let bush: Flatbush | null = null;
    if (boxed.length >= WORTH_AN_INDEX) {
      bush = new Flatbush(boxed.length);
      for (const { box } of boxed) bush.add(box.minX, box.minY, box.maxX, box.maxY);
      bush.finish();
    }
    const records = boxed.map(({ record }) => record);
    const made = { records, bush };
    known.set(table, made);
    return made;
  };
  return (table, [x, y], reachM) => {
    const { records, bush } = indexOf(table);
    if (!bush) return records;
    return bush
      .search(x - reachM, y - reachM, x + reachM, y + reachM)
      .sort((a, b) => a - b)
      .map((i) => records[i]!);
  };
}
