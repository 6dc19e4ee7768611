import type { Table } from '../../base/table.ts';
import type { Plan, RecordOf, TableName } from '../records.ts';
import type { Edit } from './edit.ts';
import { freshId } from './ids.ts';

/** `plan` with one table replaced. */
export function withTable<K extends TableName>(plan: Plan, table: K, next: Plan[K]): Plan {
  return next === plan[table] ? plan : { ...plan, [table]: next };
}

/** A table of a plan with its record type kept. */
export function tableOf<K extends TableName>(plan: Plan, table: K): Table<RecordOf<K>> {
  return plan[table] as unknown as Table<RecordOf<K>>;
}

/** Adds a record under a fresh id. */
export function add<K extends TableName>(label: string, table: K, record: Omit<RecordOf<K>, 'id'>): Edit {
  return {
    label,
    apply: (plan) => {
      const whole = { ...record, id: freshId(plan, table) } as unknown as RecordOf<K>;
      return withTable(plan, table, tableOf(plan, table).with(whole) as unknown as Plan[K]);
    },
  };
}

/** Changes fields of records that exist; unknown ids are left out. */
export function change<K extends TableName>(
  label: string,
  table: K,
  ids: readonly string[],
  fields: Partial<Omit<RecordOf<K>, 'id'>>,
): Edit {
  return {
    label,
    apply: (plan) => {
      const records = tableOf(plan, table);
      const changed = ids.flatMap((id) => {
        const record = records.get(id);
        return record ? [{ ...record, ...fields }] : [];
      });
      return changed.length ? withTable(plan, table, records.with(...changed) as unknown as Plan[K]) : plan;
    },
  };
}

type Part = 'site' | 'water' | 'controller' | 'soil' | 'climate' | 'planting' | 'practice' | 'checks';

/** Changes fields of one of the plan's single records. */
export function changePart<K extends Part>(label: string, part: K, fields: Partial<Plan[K]>): Edit {
  return { label, apply: (plan) => ({ ...plan, [part]: { ...plan[part], ...fields } }) };
}

/** Sets, replaces or takes away the site photo. */
export function setPhoto(label: string, photo: Plan['photo']): Edit {
  return { label, apply: (plan) => ({ ...plan, photo }) };
}
