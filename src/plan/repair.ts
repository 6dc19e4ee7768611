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

/**
 * Emitters that all have their run: one whose run is missing goes to the nearest blank run within reach, or is
 * left out; a plant that is missing is forgotten. Each repair is reported under the emitter's place in the file.
 */
export function emittersWithRuns(
  emitters: readonly { readonly record: PointEmitter; readonly where: string }[],
  runs: Table<Run>,
  plants: Table<Plant>,
  notices: Notices,
): PointEmitter[] {
  const kept: PointEmitter[] = [];
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
    kept.push(withOthers(emitter, plants));
  }
  const ids = new Set(kept.map(({ id }) => id));
  return kept.map((emitter) => withItsStart(emitter, ids));
}

/** Further plants that are not there are forgotten. */
function withOthers(emitter: PointEmitter, plants: Table<Plant>): PointEmitter {
  const { alsoPlantIds, ...rest } = emitter;
  const there = alsoPlantIds?.filter((id) => plants.has(id)) ?? [];
  if (there.length === (alsoPlantIds?.length ?? 0)) return emitter;
  return there.length ? { ...rest, alsoPlantIds: there } : rest;
}

/** A feeder that would start at an emitter which is not there starts at the run. */
function withItsStart(emitter: PointEmitter, ids: ReadonlySet<string>): PointEmitter {
  const { fromEmitterId, ...rest } = emitter;
  return fromEmitterId === undefined || (ids.has(fromEmitterId) && fromEmitterId !== emitter.id)
    ? emitter
    : rest;
}

/** Fills of beds and trees that are there; one that lacks some of its runs counts as changed by hand. */
export function fillsWhole(
  rows: readonly Row<Fill>[],
  areas: Table<Area>,
  plants: Table<Plant>,
  runs: Table<Run>,
  notices: Notices,
): Fill[] {
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
    const runIds = record.runIds.filter((id) => runs.has(id));
    const { leadIds: leads, ...rest } = record;
    const leadIds = leads?.filter((id) => runIds.includes(id));
    const isWhole = runIds.length === record.runIds.length && leadIds?.length === leads?.length;
    return [isWhole ? record : { ...rest, runIds, byHand: true, ...(leadIds && { leadIds }) }];
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

interface Row<T> {
  readonly record: T;
  readonly where: string;
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
