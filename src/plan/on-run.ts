import { nearestOnPath, type NearestOnPath } from '../base/polyline.ts';
import { directionDeg, distance, type Path, type Point } from '../base/point.ts';
import type { CheckValve, FlushEnd, Plan, Ref, Run } from './records.ts';

/** The place of one end of a run, and the direction in which the run leaves its own end, degrees. */
export interface RunEnd {
  readonly at: Point;
  readonly outwardDeg: number;
}

/** One end of a run; a run without length points to the east. */
export function runEnd(run: Run, end: FlushEnd['end']): RunEnd | null {
  const path = end === 'end' ? run.path : run.path.toReversed();
  const at = path.at(-1);
  if (!at) return null;
  const before = path.findLast((vertex) => distance(vertex, at) > 0);
  return { at, outwardDeg: before ? directionDeg(before, at) : 0 };
}

/** Where a check valve sits on its run (`along`: metres in plan from the start), and the way it lets water pass. */
export interface CheckValvePlace extends NearestOnPath {
  readonly directionDeg: number;
}

/** `null` for a run of fewer than two places. */
export function checkValvePlace(run: Run, valve: Pick<CheckValve, 'at'>): CheckValvePlace | null {
  if (run.path.length < 2) return null;
  const near = nearestOnPath(run.path, valve.at);
  return { ...near, directionDeg: directionAt(run.path, near.segment) };
}

/** Where a check valve, a flush end or another part of a run lies; `null` for one that is not there or has no run. */
export function placeOnRun(
  plan: Pick<Plan, 'runs' | 'checkValves' | 'flushEnds' | 'lineParts'>,
  ref: { readonly table: Ref['table']; readonly id: string },
): Point | null {
  if (ref.table === 'flushEnds') {
    const flush = plan.flushEnds.get(ref.id);
    const run = flush && plan.runs.get(flush.runId);
    return (run && runEnd(run, flush.end)?.at) ?? null;
  }
  if (ref.table !== 'checkValves' && ref.table !== 'lineParts') return null;
  const part = plan[ref.table].get(ref.id);
  const run = part && plan.runs.get(part.runId);
  return (run && checkValvePlace(run, part)?.point) ?? null;
}

/** Direction of a piece; one without length takes that of the next, or the last, piece that has some. */
function directionAt(path: Path, segment: number): number {
  const of = (i: number) =>
    distance(path[i]!, path[i + 1]!) > 0 ? directionDeg(path[i]!, path[i + 1]!) : null;
  for (let i = segment; i + 1 < path.length; i++) {
    const found = of(i);
    if (found !== null) return found;
  }
  for (let i = segment - 1; i >= 0; i--) {
    const found = of(i);
    if (found !== null) return found;
  }
  return 0;
}
