import { nearestOnPath } from '../base/polyline.ts';
import type { Table } from '../base/table.ts';
import type { Notices } from './check.ts';
import type { Area, Fill, FlushEnd, Plant, PointEmitter, Run } from './records.ts';

/** How far from a run an emitter without one may sit to be given to it, metres: a usual feeder's reach. */
const REACH_M = 2;

/** The first of `id`, `id-2`, `id-3` ... that none of the sets has. */
export function freeId(id: string, ...taken: readonly { has(id: string): boolean }[]): string {
  const isTaken = (name: string): boolean => taken.some((set) => set.has(name));
  if (!isTaken(id)) return id;
  let n = 2;
  while (isTaken(`${id}-${n}`)) n++;
  return `${id}-${n}`;
}

interface Row<T> {
  readonly record: T;
  readonly where: string;
}

/**
 * Emitters that all have their run: one whose run is missing goes to the nearest blank run within reach, or is
 * left out; plants and a start of its feeder that are missing are forgotten. Each repair is reported under the emitter's
 * place in the file.
 */
export function emittersWithRuns(
  emitters: readonly Row<PointEmitter>[],
  runs: Table<Run>,
  plants: Table<Plant>,
  notices: Notices,
): PointEmitter[] {
  const kept: Row<PointEmitter>[] = [];
  for (const { record, where } of emitters) {
    let emitter = record;
    if (emitter.plantId !== null && !plants.has(emitter.plantId)) {
      notices.add(
        `${where}.plantId`,
        `emitter ${emitter.id} names plant ${emitter.plantId}, which is not in the plan`,
        'The emitter is kept without a plant: assign it again.',
      );
      emitter = { ...emitter, plantId: null };
    }
    if (!runs.has(emitter.runId)) {
      const runId = nearestBlankRun(emitter, runs);
      const what = `emitter ${emitter.id} names run ${emitter.runId}, which is not in the plan`;
      if (runId === null) {
        notices.add(`${where}.runId`, what, 'The emitter was left out: draw its run and place it again.');
        continue;
      }
      notices.add(
        `${where}.runId`,
        what,
        `The emitter was given to run ${runId}, the nearest blank one: check that.`,
      );
      emitter = { ...emitter, runId };
    }
    kept.push({ record: withOthers(emitter, where, plants, notices), where });
  }
  const ids = new Set(kept.map(({ record }) => record.id));
  return kept.map(({ record, where }) => withItsStart(record, where, ids, notices));
}

/** Further plants that are not there are forgotten. */
function withOthers(
  emitter: PointEmitter,
  where: string,
  plants: Table<Plant>,
  notices: Notices,
): PointEmitter {
  const { alsoPlantIds, ...rest } = emitter;
  const missing = alsoPlantIds?.filter((id) => !plants.has(id)) ?? [];
  if (missing.length === 0) return emitter;
  notices.add(
    `${where}.alsoPlantIds`,
    `emitter ${emitter.id} is shared with ${named('plant', missing)}, not in the plan`,
    'The emitter is kept for its other plants: see that each plant has one.',
  );
  const there = alsoPlantIds!.filter((id) => plants.has(id));
  return there.length ? { ...rest, alsoPlantIds: there } : rest;
}

/** A feeder that would start at an emitter which is not there starts at the run. */
function withItsStart(
  emitter: PointEmitter,
  where: string,
  ids: ReadonlySet<string>,
  notices: Notices,
): PointEmitter {
  const { fromEmitterId, ...rest } = emitter;
  if (fromEmitterId === undefined || (ids.has(fromEmitterId) && fromEmitterId !== emitter.id)) return emitter;
  notices.add(
    `${where}.fromEmitterId`,
    fromEmitterId === emitter.id
      ? `the feeder of emitter ${emitter.id} starts at that emitter itself`
      : `the feeder of emitter ${emitter.id} starts at emitter ${fromEmitterId}, which is not in the plan`,
    `The feeder starts at run ${emitter.runId} now: check that.`,
  );
  return rest;
}

/** At most so many ids are told in one notice. */
const MOST_NAMED = 5;

function named(kind: string, ids: readonly string[]): string {
  const some = ids.slice(0, MOST_NAMED).join(', ');
  const more = ids.length > MOST_NAMED ? ` and ${ids.length - MOST_NAMED} more` : '';
  return `${kind}${ids.length === 1 ? '' : 's'} ${some}${more}`;
}

/**
 * Fills of beds and trees that are there, each with runs that are there, that it names once and that no fill before it
 * has: one that loses a run counts as changed by hand, lest its next change lays rows over others. Each repair is
 * reported under the fill's place in the file.
 */
export function fillsWhole(
  rows: readonly Row<Fill>[],
  areas: Table<Area>,
  plants: Table<Plant>,
  runs: Table<Run>,
  notices: Notices,
): Fill[] {
  const ownerOf = new Map<string, string>();
  return rows.flatMap(({ record, where }): Fill[] => {
    const place = record.kind === 'bed' ? areas.get(record.areaId) : plants.get(record.plantId);
    if (!place) {
      notices.add(
        where,
        `fill ${record.id} names a ${record.kind} that is not in the plan`,
        'Its rows are kept as runs that follow nothing.',
      );
      return [];
    }
    const once = [...new Set(record.runIds)];
    if (once.length < record.runIds.length) {
      const twice = once.filter((id) => record.runIds.indexOf(id) !== record.runIds.lastIndexOf(id));
      notices.add(
        `${where}.runIds`,
        `fill ${record.id} names ${named('run', twice)} more than once`,
        'Each counts once now: nothing else has changed.',
      );
    }
    const byHand =
      'The fill counts as changed by hand: lay it anew where its rows are to follow its place again.';
    const missing = once.filter((id) => !runs.has(id));
    if (missing.length > 0)
      notices.add(
        `${where}.runIds`,
        `fill ${record.id} names ${named('run', missing)}, not in the plan`,
        byHand,
      );
    const taken = once.filter((id) => runs.has(id) && ownerOf.has(id));
    if (taken.length > 0)
      notices.add(
        `${where}.runIds`,
        `fill ${record.id} names ${named('run', taken)}, part of fill ${ownerOf.get(taken[0]!)} before it`,
        `The earlier fill keeps what both name. ${byHand}`,
      );
    const runIds = once.filter((id) => runs.has(id) && !ownerOf.has(id));
    for (const id of runIds) ownerOf.set(id, record.id);
    const { leadIds: leads, ...rest } = record;
    const leadIds = leads && [...new Set(leads)].filter((id) => runIds.includes(id));
    const stray = leads?.filter((id) => !once.includes(id)) ?? [];
    if (stray.length > 0)
      notices.add(
        `${where}.leadIds`,
        `fill ${record.id} is led by ${named('run', stray)}, not among its runs`,
        byHand,
      );
    if (runIds.length === record.runIds.length && leadIds?.length === leads?.length) return [record];
    const isLess = missing.length + taken.length + stray.length > 0;
    return [{ ...rest, runIds, byHand: record.byHand || isLess, ...(leadIds && { leadIds }) }];
  });
}

function nearestBlankRun(emitter: PointEmitter, runs: Table<Run>): string | null {
  let best: string | null = null;
  let reach = REACH_M;
  for (const run of runs) {
    if (run.inline) continue;
    const { distance } = nearestOnPath(run.path, emitter.at);
    if (distance <= reach) {
      reach = distance;
      best = run.id;
    }
  }
  return best;
}

/** Records that all have their run; what hangs on a run that is missing is left out and reported. */
export function onRuns<T extends { readonly id: string; readonly runId: string }>(
  kind: string,
  rows: readonly Row<T>[],
  runs: Table<Run>,
  notices: Notices,
): Row<T>[] {
  return rows.filter(({ record, where }) => {
    if (runs.has(record.runId)) return true;
    notices.add(
      `${where}.runId`,
      `${kind} ${record.id} names run ${record.runId}, which is not in the plan`,
      `The ${kind} was left out: draw its run and set it again.`,
    );
    return false;
  });
}

/** Flush ends with at most one at each end of a run; a further one is left out and reported. */
export function oneAtEachEnd(rows: readonly Row<FlushEnd>[], notices: Notices): Row<FlushEnd>[] {
  const taken = new Map<string, string>();
  return rows.filter(({ record, where }) => {
    const place = JSON.stringify([record.runId, record.end]);
    const earlier = taken.get(place);
    if (earlier === undefined) {
      taken.set(place, record.id);
      return true;
    }
    notices.add(
      where,
      `flush end ${record.id} is at the same end of run ${record.runId} as flush end ${earlier}`,
      'The later one was left out.',
    );
    return false;
  });
}
