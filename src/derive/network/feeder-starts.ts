import type { Table } from '../../base/table.ts';
import type { PointEmitter } from '../../plan/records.ts';

/** Why a feeder cannot start at the emitter that it names. */
export type BadStart = 'missing' | 'ring' | 'other run' | 'open feeder' | 'no place';

const isReal = ({ at }: PointEmitter): boolean => Number.isFinite(at[0]) && Number.isFinite(at[1]);

/**
 * By emitter: the other one at whose place its feeder starts. A feeder starts at the run after all where that one is not
 * there, has no place, hangs on another run, sits on the run itself (then its own feeder is open and holds no pressure),
 * or where feeders would start at each other in a ring.
 * @param tell hears of each emitter whose feeder is led from the run after all
 */
export function feederStarts(
  emitters: Table<PointEmitter>,
  tell: (emitter: PointEmitter, startId: string, why: BadStart) => void = () => {},
): ReadonlyMap<string, string> {
  const starts = new Map<string, string>();
  for (const emitter of emitters) {
    const { id, runId, fromEmitterId } = emitter;
    if (fromEmitterId === undefined) continue;
    const start = emitters.get(fromEmitterId);
    const why: BadStart | null = !start
      ? 'missing'
      : fromEmitterId === id
        ? 'ring'
        : start.runId !== runId
          ? 'other run'
          : !isReal(start)
            ? 'no place'
            : start.onRun
              ? 'open feeder'
              : null;
    if (why === null) starts.set(id, fromEmitterId);
    else tell(emitter, fromEmitterId, why);
  }
  // Each emitter names one start at most, so whoever is met twice on a way up closes a ring; each is walked once.
  const walkedBy = new Map<string, string>();
  for (const first of [...starts.keys()]) {
    let id: string | undefined = first;
    while (id !== undefined && !walkedBy.has(id)) {
      walkedBy.set(id, first);
      id = starts.get(id);
    }
    if (id === undefined || walkedBy.get(id) !== first || !starts.has(id)) continue;
    let one: string | undefined = id;
    while (one !== undefined) {
      const next = starts.get(one);
      if (next === undefined) break;
      starts.delete(one);
      tell(emitters.get(one)!, next, 'ring');
      one = next;
    }
  }
  return starts;
}
