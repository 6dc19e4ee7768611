import type { Table, TableChanges } from '../base/table.ts';
import { TABLES, type Plan, type TableName } from './records.ts';

/** What makes one plan of another, as plain data that can be posted to a worker. */
export interface PlanPatch {
  /** Single parts that are not the same object. */
  readonly parts: Partial<Omit<Plan, TableName>>;
  readonly tables: { readonly [K in TableName]?: TableChanges<unknown> };
}

const IS_TABLE: ReadonlySet<string> = new Set(TABLES);

/**
 * What changed from one plan to another, told by identity, as edits share all that they leave alone.
 * `patched(before, planPatch(before, after))` equals `after`, order of records included.
 */
export function planPatch(before: Plan, after: Plan): PlanPatch {
  const parts: Record<string, unknown> = {};
  const tables: Record<string, TableChanges<unknown>> = {};
  for (const key of Object.keys(after) as (keyof Plan)[]) {
    if (before[key] === after[key]) continue;
    if (IS_TABLE.has(key)) {
      tables[key] = (before[key] as Table<Keyed>).changesTo(after[key] as Table<Keyed>);
    } else parts[key] = after[key];
  }
  return { parts, tables };
}

interface Keyed {
  readonly id: string;
}

/** The plan after a patch. Tables and parts that the patch does not name stay the same objects. */
export function patched(plan: Plan, { parts, tables }: PlanPatch): Plan {
  const next: Record<string, unknown> = { ...plan, ...parts };
  for (const [name, changes] of Object.entries(tables)) {
    next[name] = (next[name] as Table<Keyed>).withChanges(changes as TableChanges<Keyed>);
  }
  return next as unknown as Plan;
}
