import { nearestOnPath } from '../base/polyline.ts';
import type { Point } from '../base/point.ts';
import type { Table } from '../base/table.ts';
import type { OutletResult } from '../derive/results.ts';
import { refKey, type PointEmitter, type Run } from '../plan/records.ts';
import { PEN } from './inks.ts';
import type { Mark, Pen } from './marks.ts';

export const INLINE_PEN: Pen = { ink: 'line', widthMm: PEN.medium };
export const BLANK_PEN: Pen = { ink: 'line', widthMm: PEN.bold };
export const FEEDER_PEN: Pen = { ink: 'line', widthMm: PEN.thin };

/** Emitters closer to their run than this sit on the tubing, metres. */
const ON_TUBING_M = 0.02;

/** Runs: dripline in a medium line, blank tubing in a bold one. */
export function runMarks(runs: Table<Run>): Mark[] {
  return runs.toArray().flatMap((run): Mark[] => {
    if (run.path.length < 2) return [];
    const owner = refKey({ table: 'runs', id: run.id });
    const pen = run.inline ? INLINE_PEN : BLANK_PEN;
    return [{ kind: 'path', owner, lines: [run.path], closed: false, pen }];
  });
}

function feeder(id: string, from: Point, to: Point): Mark {
  const owner = refKey({ table: 'emitters', id });
  return { kind: 'path', owner, lines: [[from, to]], closed: false, pen: FEEDER_PEN };
}

/** Feeders as computed when there are results, else straight to the nearest place on the run. */
export function feederMarks(
  emitters: Table<PointEmitter>,
  runs: Table<Run>,
  outlets: readonly OutletResult[] | null,
): Mark[] {
  if (outlets) {
    return outlets
      .filter((outlet) => outlet.owner.table === 'emitters' && outlet.feederM > 0)
      .map((outlet) => feeder(outlet.owner.id, outlet.tap, outlet.at));
  }
  return emitters.toArray().flatMap((emitter) => {
    const run = runs.get(emitter.runId);
    if (!run || run.path.length < 2) return [];
    const near = nearestOnPath(run.path, emitter.at);
    return near.distance > ON_TUBING_M ? [feeder(emitter.id, near.point, emitter.at)] : [];
  });
}
