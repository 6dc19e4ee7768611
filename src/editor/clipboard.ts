import { boxOf, distance, type Box, type Point } from '../base/point.ts';
import { nearestOnPath } from '../base/polyline.ts';
import { labelPoint, polygonContains } from '../base/polygon.ts';
import { freshIds } from '../plan/edits/index.ts';
import { withOwnJoints } from '../plan/edits/lateral-ends.ts';
import { movedRecord } from '../plan/edits/move.ts';
import { tableOf, withTable } from '../plan/edits/put.ts';
import { JOINT_TOLERANCE_M } from '../plan/joining.ts';
import { placesOf } from '../plan/places.ts';
import {
  refKey,
  TABLES,
  type Area,
  type Fill,
  type Plan,
  type PointEmitter,
  type RecordOf,
  type Ref,
  type Run,
  type TableName,
} from '../plan/records.ts';
import { bedOf } from './choose.ts';

/** Things copied from a plan, to be set into that plan or another one. It holds the records themselves. */
export interface Clip {
  readonly records: { readonly [K in TableName]?: readonly RecordOf<K>[] };
  /** Those that were chosen; the others came along. */
  readonly asked: ReadonlySet<string>;
  readonly box: Box;
  /** The bed that they were copied from. */
  readonly bed: Area | null;
  /** Areas that copied fills leave out, as they were. */
  readonly leftOut: ReadonlyMap<string, Area>;
}

/** What hangs on runs and is copied with them. */
const HANGING = ['emitters', 'flushEnds', 'checkValves', 'lineParts'] as const;
/** An emitter copied without its tubing joins other tubing within this of its new place, metres (common practice: short feeders). */
const FEEDER_REACH_M = 1.5;

/**
 * Copies of records with what hangs on them: a run's emitters and parts, a plant's emitters, and the fill that drew
 * runs where all of its runs are there. Null where nothing is chosen that has a place.
 */
export function clipOf(plan: Plan, refs: readonly Ref[]): Clip | null {
  const ids = new Map<TableName, Set<string>>(TABLES.map((table) => [table, new Set<string>()]));
  for (const { table, id } of refs) if (table !== 'fills' && plan[table].has(id)) ids.get(table)!.add(id);
  const runs = ids.get('runs')!;
  const plants = ids.get('plants')!;
  for (const table of HANGING) {
    for (const { id, runId } of plan[table]) if (runs.has(runId)) ids.get(table)!.add(id);
  }
  for (const { id, plantId } of plan.emitters) {
    if (plantId !== null && plants.has(plantId)) ids.get('emitters')!.add(id);
  }
  const fills = [...plan.fills].filter(
    (fill) =>
      fill.runIds.length > 0 &&
      fill.runIds.every((id) => runs.has(id)) &&
      (fill.kind === 'bed' || plants.has(fill.plantId)),
  );
  for (const { id } of fills) ids.get('fills')!.add(id);

  const chosen = [...ids].flatMap(([table, set]) => [...set].map((id): Ref => ({ table, id })));
  const box = boxOf(chosen.flatMap((ref) => (ref.table === 'fills' ? [] : placesOf(plan, ref))));
  if (!box) return null;
  const records = Object.fromEntries(
    [...ids]
      .filter(([, set]) => set.size > 0)
      .map(([table, set]) => [table, [...plan[table]].filter(({ id }) => set.has(id))]),
  ) as Clip['records'];
  const leftOut = new Map<string, Area>();
  for (const fill of fills) {
    for (const id of fill.kind === 'bed' ? fill.choices.leaveOut : []) {
      const area = plan.areas.get(id);
      if (area) leftOut.set(id, area);
    }
  }
  return { records, asked: new Set(refs.map(refKey)), box, bed: bedOf(plan, refs), leftOut };
}

/** Where a clip's middle lies. */
const middleOf = ({ minX, minY, maxX, maxY }: Box): Point => [(minX + maxX) / 2, (minY + maxY) / 2];

/** The way that a clip is moved so that its middle comes to a place. */
export function wayTo({ box }: Clip, at: Point): Point {
  const [x, y] = middleOf(box);
  return [at[0] - x, at[1] - y];
}

/**
 * The way that a clip is moved into a bed: from the lower left corner of the bed's box that it was copied from to that
 * of the other bed; where it came from no bed, its middle goes to where there is most room.
 */
export function wayIntoBed(clip: Clip, bed: Area): Point {
  const from = clip.bed && boxOf(clip.bed.outline);
  const to = boxOf(bed.outline);
  if (from && to) return [to.minX - from.minX, to.minY - from.minY];
  return to ? wayTo(clip, labelPoint(bed.outline, bed.holes)) : [0, 0];
}

export interface Pasted {
  readonly plan: Plan;
  /** The copies of what was chosen. */
  readonly refs: readonly Ref[];
  /** Emitters and parts that found no tubing at their new place. */
  readonly lost: number;
}

/** The plan with the records of a clip under fresh ids, moved by (dx, dy) metres. */
export function pasted(plan: Plan, clip: Clip, [dx, dy]: Point): Pasted {
  const renamed = new Map<string, string>();
  for (const table of TABLES) {
    const list = clip.records[table] ?? [];
    const fresh = freshIds(plan, table, list.length);
    list.forEach(({ id }, i) => renamed.set(`${table}/${id}`, fresh[i]!));
  }
  const name = (table: TableName, id: string) => renamed.get(`${table}/${id}`);
  let next = plan;
  const put = <K extends TableName>(table: K, records: readonly RecordOf<K>[]): void => {
    if (records.length)
      next = withTable(next, table, tableOf(next, table).with(...records) as unknown as Plan[K]);
  };
  const copies = <K extends TableName>(table: K): RecordOf<K>[] =>
    ((clip.records[table] ?? []) as readonly RecordOf<K>[]).map((record) => ({
      ...movedRecord(record, dx, dy),
      id: name(table, record.id)!,
    }));
  for (const table of [
    'areas',
    'levels',
    'falls',
    'laterals',
    'heads',
    'plants',
    'runs',
    'controls',
    'supplies',
  ] as const)
    put(table, copies(table));

  let lost = 0;
  const blanks = [...plan.runs].filter(({ inline }) => inline === null);
  const emitters = copies('emitters').flatMap((emitter): PointEmitter[] => {
    const runId = name('runs', emitter.runId) ?? nearRun(blanks, emitter.at, FEEDER_REACH_M)?.id;
    if (runId === undefined) {
      lost += 1;
      return [];
    }
    return [{ ...emitter, runId }];
  });
  const kept = new Set(emitters.map(({ id }) => id));
  put(
    'emitters',
    emitters.map(({ fromEmitterId, alsoPlantIds, ...emitter }): PointEmitter => {
      const own = emitter.plantId === null ? undefined : name('plants', emitter.plantId);
      const also = (alsoPlantIds ?? []).flatMap((id) => name('plants', id) ?? []);
      const [plantId = null, ...others] = [...(own === undefined ? [] : [own]), ...also];
      const start = fromEmitterId === undefined ? undefined : name('emitters', fromEmitterId);
      return {
        ...emitter,
        plantId,
        ...(others.length && { alsoPlantIds: others }),
        ...(start !== undefined && kept.has(start) && { fromEmitterId: start }),
      };
    }),
  );
  put(
    'flushEnds',
    copies('flushEnds').flatMap((flush) => {
      const runId = name('runs', flush.runId);
      if (runId === undefined) lost += 1;
      return runId === undefined ? [] : [{ ...flush, runId }];
    }),
  );
  for (const table of ['checkValves', 'lineParts'] as const) {
    const found = copies(table).flatMap((part) => {
      const own = name('runs', part.runId);
      // A part that was chosen by itself is set into the tubing that it lies on.
      const near = own === undefined ? nearRun([...plan.runs], part.at, JOINT_TOLERANCE_M * 10) : null;
      const runId = own ?? near?.id;
      if (runId === undefined) lost += 1;
      return runId === undefined ? [] : [{ ...part, runId, at: near?.at ?? part.at }];
    });
    put(table, found as never[]);
  }
  put(
    'fills',
    copies('fills').flatMap((fill) => fillAt(next, clip, fill, name) ?? []),
  );
  const pipes = new Set((clip.records.laterals ?? []).map(({ id }) => name('laterals', id)!));
  next = withOwnJoints(next, pipes, renamed);

  const refs = TABLES.flatMap((table) =>
    (clip.records[table] ?? []).flatMap(({ id }): Ref[] => {
      const copy = name(table, id)!;
      return clip.asked.has(refKey({ table, id })) && next[table].has(copy) ? [{ table, id: copy }] : [];
    }),
  );
  return { plan: next, refs, lost };
}

function nearRun(
  runs: readonly Run[],
  at: Point,
  withinM: number,
): { readonly id: string; readonly at: Point } | null {
  let best: { id: string; at: Point } | null = null;
  let nearest = withinM;
  for (const { id, path } of runs) {
    if (path.length < 2) continue;
    const near = nearestOnPath(path, at);
    if (near.distance > nearest) continue;
    nearest = near.distance;
    best = { id, at: near.point };
  }
  return best;
}

/**
 * A copied fill at its new place: that of the bed in which all of its runs lie, where the bed has none yet; that of the
 * copied tree. Null where there is no such bed: the runs are plain runs then.
 */
function fillAt(
  plan: Plan,
  clip: Clip,
  fill: Fill,
  name: (table: TableName, id: string) => string | undefined,
): Fill | null {
  const runIds = fill.runIds.flatMap((id) => name('runs', id) ?? []);
  if (fill.kind === 'tree') {
    const plantId = name('plants', fill.plantId);
    return plantId === undefined ? null : { ...fill, plantId, runIds };
  }
  const places = runIds.flatMap((id) => plan.runs.get(id)?.path ?? []);
  const filled = new Set([...plan.fills].flatMap((one) => (one.kind === 'bed' ? [one.areaId] : [])));
  const bed = plan.areas
    .toArray()
    .findLast(
      ({ id, use, outline, holes }) =>
        use === 'bed' && !filled.has(id) && places.every((at) => polygonContains(outline, holes, at)),
    );
  if (!bed) return null;
  // An id of another plan names another area; only one that lies just there is meant.
  const leaveOut = fill.choices.leaveOut.flatMap((id) => {
    const copy = name('areas', id);
    if (copy !== undefined) return [copy];
    const before = clip.leftOut.get(id);
    const now = plan.areas.get(id);
    const same = before && now && before.outline.length === now.outline.length;
    return same && before.outline.every((p, i) => distance(p, now.outline[i]!) < JOINT_TOLERANCE_M)
      ? [id]
      : [];
  });
  return { ...fill, areaId: bed.id, runIds, choices: { ...fill.choices, leaveOut } };
}
