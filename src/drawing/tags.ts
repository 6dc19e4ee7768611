import { distance, type Point } from '../base/point.ts';
import type { Table } from '../base/table.ts';
import type { OutletResult } from '../derive/results.ts';
import { STANDS_ON_M } from '../plan/joining.ts';
import {
  refKey,
  type Head,
  type LateralPipe,
  type Plant,
  type PointEmitter,
  type Supply,
  type TableName,
} from '../plan/records.ts';
import type { Mark, TextMark } from './marks.ts';

/** Short lettering beside small things, by which a schedule names them. */
function tag(
  table: TableName,
  id: string,
  at: Point,
  text: string,
  sizeMm: number,
  asideMm: number,
): TextMark {
  return {
    kind: 'text',
    halo: 'paper',
    owner: refKey({ table, id }),
    at,
    text,
    sizeMm,
    ink: 'line',
    anchor: 'start',
    shiftMm: [asideMm, -0.4],
  };
}

/** Ids of plants beside their stems; in a crowd only trees are sure to keep theirs. */
export function plantTags(plants: Table<Plant>): Mark[] {
  return plants.toArray().map(({ id, at, plantClass }) => ({
    ...tag('plants', id, at, id, 1.9, 0.9),
    ...(plantClass !== 'tree' && { mayDrop: true }),
  }));
}

/** Ids of existing heads beside them. */
export function headTags(heads: Table<Head>): Mark[] {
  return heads.toArray().map(({ id, at }) => tag('heads', id, at, id, 2.1, 2.2));
}

/**
 * Names of the joints of old pipe at which no head or supply stands, while what is cut off has to be found: heads go by
 * their own tags.
 */
export function jointTags(laterals: Table<LateralPipe>, heads: Table<Head>, supplies: Table<Supply>): Mark[] {
  const cut = new Set(laterals.toArray().flatMap(({ fate, zone }) => (fate === 'cut off' ? [zone] : [])));
  const stations = [...heads, ...supplies];
  const named = new Map<string, Mark>();
  for (const { id, from, to, a, b, zone } of laterals) {
    if (!cut.has(zone)) continue;
    for (const [name, at] of [
      [from, a],
      [to, b],
    ] as const) {
      const key = JSON.stringify([zone, name]);
      if (name === '' || named.has(key)) continue;
      if (stations.some((station) => station.id === name || distance(station.at, at) <= STANDS_ON_M))
        continue;
      named.set(key, { ...tag('laterals', id, at, name, 1.9, 1.6), mayDrop: true });
    }
  }
  return [...named.values()];
}

/** Numbers of point emitters along their run by emitter: as computed, else in the order of the plan. */
export function emitterNumberOf(
  emitters: Table<PointEmitter>,
  outlets: readonly OutletResult[] | null,
): Map<string, number> {
  const numbers = new Map<string, number>();
  if (outlets) {
    for (const { owner, number } of outlets) if (owner.table === 'emitters') numbers.set(owner.id, number);
    return numbers;
  }
  const counts = new Map<string, number>();
  for (const { id, runId } of emitters) {
    const number = (counts.get(runId) ?? 0) + 1;
    counts.set(runId, number);
    numbers.set(id, number);
  }
  return numbers;
}

/** The number of each point emitter along its run beside it, as in the schedule of outlets. */
export function emitterNumbers(
  emitters: Table<PointEmitter>,
  outlets: readonly OutletResult[] | null,
): Mark[] {
  const numbers = emitterNumberOf(emitters, outlets);
  return emitters.toArray().flatMap(({ id, at }) => {
    const number = numbers.get(id);
    return number === undefined ? [] : [tag('emitters', id, at, String(number), 1.6, 1)];
  });
}
