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
  lineParts: 'Q',
  emitters: 'E',
  controls: 'C',
  supplies: 'V',
  fills: 'G',
};

/**
 * The first `count` free ids of a table, numbered on from the highest number in use. Ids of heads and supplies also
 * keep off the names of joints of old pipes: a joint may still be called after a head that was removed.
 */
export function freshIds(plan: Plan, table: TableName, count = 1): string[] {
  const prefix = PREFIX[table];
  let highest = 0;
  const note = (id: string): void => {
    if (!id.startsWith(prefix)) return;
    const number = Number(id.slice(prefix.length));
    if (Number.isInteger(number) && number > highest) highest = number;
  };
  for (const { id } of plan[table]) note(id);
  if (table === 'heads' || table === 'supplies') {
    for (const { from, to } of plan.laterals) [from, to].forEach(note);
  }
  return Array.from({ length: count }, (_, i) => `${prefix}${highest + i + 1}`);
}

export function freshId(plan: Plan, table: TableName): string {
  return freshIds(plan, table)[0]!;
}
