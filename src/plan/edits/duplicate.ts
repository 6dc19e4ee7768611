import { refKey, type Plan, type Ref, type TableName } from '../records.ts';
import { partsOnRuns, SITTING_ON_RUNS } from './attached.ts';
import { freshIds } from './ids.ts';
import { withOwnJoints } from './lateral-ends.ts';
import { movedRecord } from './move.ts';
import { tableOf, withTable } from './put.ts';

/** What is copied with a run. */
const HANGING = ['emitters', 'flushEnds', ...SITTING_ON_RUNS] as const;

/**
 * The plan with copies of records, moved by (dx, dy) metres, and which records the copies of the chosen ones are.
 * Copied runs bring copies of their point emitters, flush ends and what else sits on them, which then name the copied run, and
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
  for (const ref of refs) if (ref.table !== 'flushEnds' && ref.table !== 'fills') take(ref.table, ref.id);
  const runs = new Set(chosen.get('runs'));
  for (const table of HANGING) {
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
    const named = (plantId: string) => renamed.get(`plants/${plantId}`) ?? plantId;
    const start = copy.fromEmitterId;
    return [
      {
        ...copy,
        plantId: copy.plantId === null ? null : named(copy.plantId),
        ...(copy.alsoPlantIds && { alsoPlantIds: copy.alsoPlantIds.map(named) }),
        ...(start !== undefined && { fromEmitterId: renamed.get(`emitters/${start}`) ?? start }),
      },
    ];
  });
  if (emitters.length) next = { ...next, emitters: next.emitters.with(...emitters) };
  const copiesIn = (table: TableName) =>
    new Set((chosen.get(table) ?? []).map((id) => renamed.get(`${table}/${id}`) ?? ''));
  for (const table of HANGING) {
    const made = copiesIn(table);
    const onCopies = [...next[table]].flatMap((record) => {
      const runId = made.has(record.id) ? renamed.get(`runs/${record.runId}`) : undefined;
      return runId === undefined ? [] : [{ ...record, runId }];
    });
    next = withTable(next, table, tableOf(next, table).with(...(onCopies as never[])) as never);
  }
  next = withOwnJoints(next, copiesIn('laterals'), renamed);
  for (const table of SITTING_ON_RUNS) next = partsOnRuns(next, table, copiesIn(table));
  return { plan: next, copies };
}
