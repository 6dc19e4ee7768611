import { Table } from '../../base/table.ts';
import { checked } from '../check.ts';
import type { RecordOf, TableName } from '../records.ts';
import { freeId } from '../repair.ts';
import { RECORDS } from '../schema.ts';
import type { SurveyContext } from './fields.ts';

/** A record that was understood, with its place in the survey. */
export interface Found<T> {
  readonly record: T;
  readonly where: string;
}

/**
 * The records as a table that a plan may hold: one with a figure out of all bounds is left out, one whose id is
 * taken already gets a new one, both reported.
 */
export function tableOf<K extends TableName>(
  name: K,
  found: readonly Found<RecordOf<K>>[],
  context: SurveyContext,
): Table<RecordOf<K>> {
  const taken = new Set<string>();
  const inFile = new Set(found.map(({ record }) => record.id));
  const kept: RecordOf<K>[] = [];
  for (const { record, where } of found) {
    const result = checked(RECORDS[name], record, where);
    if (!result.ok) {
      context.notices.add(
        result.where,
        result.what,
        `"${record.id}" was left out: correct the file or draw it.`,
      );
      continue;
    }
    const id = taken.has(record.id) ? freeId(record.id, inFile, taken) : record.id;
    if (id !== record.id) {
      context.notices.add(
        `${where}.id`,
        `"${record.id}" is the id of an earlier one too`,
        `It is called "${id}" now.`,
      );
    }
    taken.add(id);
    kept.push({ ...result.value, id });
  }
  return Table.of(kept);
}
