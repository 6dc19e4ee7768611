import type { Table } from '../base/table.ts';
import { checkValvePlace, runEnd } from '../plan/on-run.ts';
import {
  refKey,
  type CheckValve,
  type FlushEnd,
  type LinePart,
  type LinePartKind,
  type Run,
} from '../plan/records.ts';
import { PEN } from './inks.ts';
import type { Mark, SymbolMark } from './marks.ts';

export const FLUSH_END_SYMBOL = {
  name: 'flushEnd',
  sizeMm: 2.8,
  pen: { ink: 'line', widthMm: PEN.fine },
  fill: 'paper',
} as const satisfies Partial<SymbolMark>;

export const CHECK_VALVE_SYMBOL = {
  name: 'checkValve',
  sizeMm: 3.2,
  pen: { ink: 'line', widthMm: PEN.medium },
  fill: 'paper',
} as const satisfies Partial<SymbolMark>;

export const LINE_PART_SYMBOLS = {
  'air relief': { name: 'airRelief', sizeMm: 3, pen: { ink: 'line', widthMm: PEN.fine }, fill: 'paper' },
  drain: { name: 'drain', sizeMm: 3, pen: { ink: 'line', widthMm: PEN.fine }, fill: 'paper' },
} as const satisfies Record<LinePartKind, Partial<SymbolMark>>;

/** Flush ends at the ends of their runs, the loop pointing away from the tubing. */
export function flushEndMarks(flushEnds: Table<FlushEnd>, runs: Table<Run>): Mark[] {
  return flushEnds.toArray().flatMap((flush): Mark[] => {
    const run = runs.get(flush.runId);
    const end = run && runEnd(run, flush.end);
    if (!end) return [];
    const owner = refKey({ table: 'flushEnds', id: flush.id });
    // The loop of the upright symbol points down.
    return [{ kind: 'symbol', owner, at: end.at, turnDeg: end.outwardDeg + 90, ...FLUSH_END_SYMBOL }];
  });
}

/** Check valves on their runs, the triangle pointing the way the water may go. */
export function checkValveMarks(valves: Table<CheckValve>, runs: Table<Run>): Mark[] {
  return valves.toArray().flatMap((valve): Mark[] => {
    const run = runs.get(valve.runId);
    const place = run && checkValvePlace(run, valve);
    if (!place) return [];
    const owner = refKey({ table: 'checkValves', id: valve.id });
    return [{ kind: 'symbol', owner, at: place.point, turnDeg: place.directionDeg, ...CHECK_VALVE_SYMBOL }];
  });
}

/** Air reliefs and drains on their runs, upright. */
export function linePartMarks(parts: Table<LinePart>, runs: Table<Run>): Mark[] {
  return parts.toArray().flatMap((part): Mark[] => {
    const run = runs.get(part.runId);
    const place = run && checkValvePlace(run, part);
    if (!place) return [];
    const owner = refKey({ table: 'lineParts', id: part.id });
    return [{ kind: 'symbol', owner, at: place.point, ...LINE_PART_SYMBOLS[part.kind] }];
  });
}
