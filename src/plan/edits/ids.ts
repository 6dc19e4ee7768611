import type { Plan, TableName } from '../records.ts';

const PREFIX: Record<TableName, string> = {
  areas: 'A',
  levels: 'Z',
  falls: 'S',
  laterals: 'L',
  heads: 'H',
  plants: 'P',
  runs: 'R',
  checkValves: 'K',
  flushEnds: 'F',
  emitters: 'E',
  controls: 'C',
  supplies: 'V',
};

/** The first `count` free ids of a table, numbered on from the highest number in use. */
export function freshIds(plan: Plan, table: TableName, count = 1): string[] {
  const prefix = PREFIX[table];
  let highest = 0;
  for (const { id } of plan[table]) {
    if (!id.startsWith(prefix)) continue;
    const number = Number(id.slice(prefix.length));
    if (Number.isInteger(number) && number > highest) highest = number;
  }
  return Array.from({ length: count }, (_, i) => `${prefix}${highest + i + 1}`);
}

export function freshId(plan: Plan, table: TableName): string {
  return freshIds(plan, table)[0]!;
}
