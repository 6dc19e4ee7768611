import { refKey, type Plan, type Ref, type TableName } from '../records.ts';
import { checkValvesOnRuns } from './attached.ts';
import { freshIds } from './ids.ts';
import { withOwnJoints } from './lateral-ends.ts';
import { movedRecord } from './move.ts';
import { tableOf, withTable } from './put.ts';

/**
 * The plan with copies of records, moved by (dx, dy) metres, and which records the copies of the chosen ones are.
 * Copied runs bring copies of their point emitters, check valves and flush ends, which then name the copied run, and
 * the copied plant where that was copied too; copied old pipes are joined to each other as the first ones are. A flush
 * end alone is not copied: its run has that end only once.
 */
export function duplicated(
  plan: Plan,
  refs: readonly Ref[],
  dx: number,
  dy: number,
): { plan: Plan; copies: Ref[] } {
  const chosen = new Map<TableName, string[]>();
  const take = (table: TableName, id: string) => {
    const list = chosen.get(table) ?? [];
    if (!list.includes(id)) chosen.set(table, [...list, id]);
  };
  for (const ref of refs) if (ref.table !== 'flushEnds') take(ref.table, ref.id);
  const runs = new Set(chosen.get('runs'));
  for (const table of ['emitters', 'checkValves', 'flushEnds'] as const) {
    for (const record of plan[table]) if (runs.has(record.runId)) take(table, record.id);
  }

  const asked = new Set(refs.map(refKey));
  const renamed = new Map<string, string>();
  const copies: Ref[] = [];
  for (const [table, ids] of chosen) {
    const fresh = freshIds(plan, table, ids.length);
    ids.forEach((id, i) => {
      if (!tableOf(plan, table).has(id)) return;
      renamed.set(`${table}/${id}`, fresh[i]!);
      if (asked.has(`${table}/${id}`)) copies.push({ table, id: fresh[i]! });
    });
  }

  let next = plan;
  for (const [table, ids] of chosen) {
    const records = tableOf(plan, table);
    const made = ids.flatMap((id) => {
      const record = records.get(id);
      const newId = renamed.get(`${table}/${id}`);
      return record && newId ? [{ ...movedRecord(record, dx, dy), id: newId }] : [];
    });
    next = withTable(next, table, records.with(...made) as never);
  }
  const emitters = (chosen.get('emitters') ?? []).flatMap((id) => {
    const copy = next.emitters.get(renamed.get(`emitters/${id}`) ?? '');
    if (!copy) return [];
    const plantId = copy.plantId === null ? null : (renamed.get(`plants/${copy.plantId}`) ?? copy.plantId);
    return [{ ...copy, plantId }];
  });
  if (emitters.length) next = { ...next, emitters: next.emitters.with(...emitters) };
  const copiesIn = (table: TableName) =>
    new Set((chosen.get(table) ?? []).map((id) => renamed.get(`${table}/${id}`) ?? ''));
  for (const table of ['emitters', 'checkValves', 'flushEnds'] as const) {
    const made = copiesIn(table);
    const onCopies = [...next[table]].flatMap((record) => {
      const runId = made.has(record.id) ? renamed.get(`runs/${record.runId}`) : undefined;
      return runId === undefined ? [] : [{ ...record, runId }];
    });
    next = withTable(next, table, tableOf(next, table).with(...(onCopies as never[])) as never);
  }
  next = withOwnJoints(next, copiesIn('laterals'), renamed);
  return { plan: checkValvesOnRuns(next, copiesIn('checkValves')), copies };
}
