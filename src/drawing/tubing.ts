import { nearestOnPath } from '../base/polyline.ts';
import { distance, type Point } from '../base/point.ts';
import type { Table } from '../base/table.ts';
import { feederStarts } from '../derive/network/feeder-starts.ts';
import type { OutletResult } from '../derive/results.ts';
import { refKey, type PointEmitter, type Run } from '../plan/records.ts';
import { PEN } from './inks.ts';
import type { Mark, PathMark, Pen, SymbolMark } from './marks.ts';
import { ON_TUBING_M } from '../plan/joining.ts';

export const INLINE_PEN: Pen = { ink: 'line', widthMm: PEN.medium };
/** Twice as wide as dripline, and feeders thin and dashed: the three differ in black and white at any scale. */
export const BLANK_PEN: Pen = { ink: 'line', widthMm: PEN.heavy };
export const FEEDER_PEN: Pen = { ink: 'line', widthMm: PEN.fine, dashMm: [0.7, 0.5] };

/** Runs: dripline in a medium line, blank tubing in a bold one. */
export function runMarks(runs: Table<Run>): Mark[] {
  return runs.toArray().flatMap((run): Mark[] => {
    if (run.path.length < 2) return [];
    let mark = markOfRun.get(run);
    if (!mark) {
      const owner = refKey({ table: 'runs', id: run.id });
      const pen = run.inline ? INLINE_PEN : BLANK_PEN;
      mark = { kind: 'path', owner, lines: [run.path], closed: false, pen };
      markOfRun.set(run, mark);
    }
    return [mark];
  });
}

/** A run that stays as it is keeps its mark, and with it what the canvas knows of it. */
const markOfRun = new WeakMap<Run, PathMark>();

/** A feeder tube from a run, or from the place of another emitter, to a point emitter or to its plant. */
export interface Feeder {
  readonly emitterId: string;
  readonly runId: string;
  readonly from: Point;
  readonly to: Point;
  /** On the ground where it is computed, else in plan, metres. */
  readonly lengthM: number;
}

/** Feeders as computed when there are results, else straight to the nearest place on the run. */
export function feedersOf(
  emitters: Table<PointEmitter>,
  runs: Table<Run>,
  outlets: readonly OutletResult[] | null,
): Feeder[] {
  if (outlets) {
    return outlets
      .filter((outlet) => outlet.owner.table === 'emitters' && outlet.feederM > 0)
      .map(({ owner, runId, tap, at, feederM }) => ({
        emitterId: owner.id,
        runId,
        from: tap,
        to: at,
        lengthM: feederM,
      }));
  }
  const starts = feederStarts(emitters);
  return emitters.toArray().flatMap(({ id, runId, at }) => {
    const run = runs.get(runId);
    if (!run || run.path.length < 2) return [];
    const start = emitters.get(starts.get(id) ?? '');
    const from = start ? start.at : nearestOnPath(run.path, at).point;
    const lengthM = distance(from, at);
    if (lengthM <= ON_TUBING_M) return [];
    return [{ emitterId: id, runId, from, to: at, lengthM }];
  });
}

/** Open end of a feeder at its plant, whose emitter sits on the run: a small open dot, without a place. */
export const OPEN_END: Omit<SymbolMark, 'at'> = {
  kind: 'symbol',
  name: 'dot',
  sizeMm: 0.9,
  groundM: 0.09,
  pen: { ink: 'line', widthMm: PEN.hair },
  fill: 'paper',
};

/** Feeder tubes, thin and dashed, with an open end where the emitter sits on the run. */
export function feederMarks(
  emitters: Table<PointEmitter>,
  runs: Table<Run>,
  outlets: readonly OutletResult[] | null,
): Mark[] {
  return feedersOf(emitters, runs, outlets).flatMap(({ emitterId, from, to }): Mark[] => {
    const owner = refKey({ table: 'emitters', id: emitterId });
    const tube: Mark = { kind: 'path', owner, lines: [[from, to]], closed: false, pen: FEEDER_PEN };
    return emitters.get(emitterId)?.onRun ? [tube, { ...OPEN_END, owner, at: to }] : [tube];
  });
}
