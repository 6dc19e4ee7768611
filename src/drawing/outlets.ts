import { pathLength, pointAlong } from '../base/polyline.ts';
import type { Point } from '../base/point.ts';
import type { Table } from '../base/table.ts';
import type { OutletResult, OutletState, Results } from '../derive/results.ts';
import { refKey, type PointEmitter, type Run } from '../plan/records.ts';
import { PEN } from './inks.ts';
import type { Mark, Pen, SymbolMark, SymbolName } from './marks.ts';
import { pressureRamp, shareOf, type ColourRange } from './pressure-ramp.ts';
import { feedersOf } from './tubing.ts';

/** A built-in emitter is a small dot on its line, a point emitter a larger one. */
export const INLINE_MM = 1.1;
export const POINT_MM = 1.7;
/** Below about 1:100 both shrink, so that neighbours stay apart; metres on the ground. */
const INLINE_M = 0.11;
const POINT_M = 0.17;
/** Outlets outside their range stand out by size and shape, not by colour alone. */
export const ALERT_MM = 2.4;

const RIM: Pen = { ink: 'line', widthMm: PEN.hair };
const ALERT: Pen = { ink: 'warn', widthMm: PEN.medium };

interface AlertLook {
  readonly name: SymbolName;
  readonly words: string;
}
/** Sign and words of each state outside the range. */
export const ALERT_LOOKS: Readonly<Record<Exclude<OutletState, 'good'>, AlertLook>> = {
  low: { name: 'triangleDown', words: 'outlet below its lowest pressure' },
  high: { name: 'triangleUp', words: 'outlet above its highest pressure' },
  dry: { name: 'cross', words: 'outlet without water' },
  apart: { name: 'ring', words: 'outlet not connected to a supply' },
};

/** Sign of an outlet outside its range, without a place. */
export function alertSymbol(state: Exclude<OutletState, 'good'>): Omit<SymbolMark, 'at'> {
  const base = { kind: 'symbol', name: ALERT_LOOKS[state].name, sizeMm: ALERT_MM, pen: ALERT } as const;
  return state === 'low' || state === 'high' ? { ...base, fill: 'paper' } : base;
}

const INLINE_DOT = { sizeMm: INLINE_MM, groundM: INLINE_M };
const POINT_DOT = { sizeMm: POINT_MM, groundM: POINT_M };

/** Sign of an outlet whose pressure is not known, without a place. */
export function plainSymbol(table: 'runs' | 'emitters'): Omit<SymbolMark, 'at'> {
  const { sizeMm, groundM } = table === 'runs' ? INLINE_DOT : POINT_DOT;
  return { kind: 'symbol', name: 'dot', sizeMm, groundM, pen: RIM, fill: 'paper' };
}

/** Narrowest range of the colours, 5 psi: differences that no gauge shows must not look large. */
export const LEAST_SPAN_KPA = 34.5;

/**
 * Lowest and highest pressure of the outlets that have water, kPa; `null` when none has. A range narrower than
 * `LEAST_SPAN_KPA` is widened to it about its middle, but not below 0.
 */
export function pressureRangeOf(outlets: readonly OutletResult[]): ColourRange | null {
  let known = ranges.get(outlets);
  if (known === undefined) ranges.set(outlets, (known = rangeOf(outlets)));
  return known;
}

/** Drawing and legend ask for the range of the same answer, and both for every answer. */
const ranges = new WeakMap<readonly OutletResult[], ColourRange | null>();

function rangeOf(outlets: readonly OutletResult[]): ColourRange | null {
  let minKpa = Infinity;
  let maxKpa = -Infinity;
  for (const { state, pressureKpa } of outlets) {
    if (state === 'dry' || state === 'apart' || !Number.isFinite(pressureKpa)) continue;
    if (pressureKpa < minKpa) minKpa = pressureKpa;
    if (pressureKpa > maxKpa) maxKpa = pressureKpa;
  }
  if (minKpa > maxKpa) return null;
  if (maxKpa - minKpa >= LEAST_SPAN_KPA) return { minKpa, maxKpa };
  const from = Math.max((minKpa + maxKpa - LEAST_SPAN_KPA) / 2, Math.min(0, minKpa));
  return { minKpa: from, maxKpa: from + LEAST_SPAN_KPA };
}

/** An emitter that sits on the run has its sign there; only the open end of its feeder is at the plant. */
function signAt({ onRun, tap, at }: OutletResult): Point {
  return onRun ? tap : at;
}

/** Key of the owner of outlets that are read one after the other: those of one run share one, made once. */
function ownerKeys(): (owner: OutletResult['owner']) => string {
  let last: OutletResult['owner'] | null = null;
  let key = '';
  return (owner) => {
    if (owner !== last) [last, key] = [owner, refKey(owner)];
    return key;
  };
}

/**
 * Outlets in range as dots coloured by pressure, the others by the sign of their state, drawn on top. Written out and
 * with shared pens, since thousands are made for each answer while a pointer drags.
 */
export function outletMarks(results: Results, colourRange: ColourRange | null): Mark[] {
  const range = colourRange ?? pressureRangeOf(results.outlets);
  const marks: Mark[] = [];
  const alerts: Mark[] = [];
  const keyOf = ownerKeys();
  for (const outlet of results.outlets) {
    const owner = keyOf(outlet.owner);
    const at = signAt(outlet);
    if (outlet.state === 'good' && range) {
      const { sizeMm, groundM } = outlet.owner.table === 'runs' ? INLINE_DOT : POINT_DOT;
      const fill = pressureRamp(shareOf(outlet.pressureKpa, range));
      marks.push({ kind: 'symbol', name: 'dot', sizeMm, groundM, pen: RIM, fill, owner, at });
    } else {
      alerts.push({ ...alertSymbol(outlet.state === 'good' ? 'apart' : outlet.state), owner, at });
    }
  }
  for (const alert of alerts) marks.push(alert);
  return marks;
}

/** Built-in emitters beyond this number are not drawn while their run is not computed. */
const MOST_PER_RUN = 20_000;

/** Places of a run's built-in emitters along its path in plan. */
export function inlinePlaces(run: Run): Point[] {
  const inline = run.inline;
  if (!inline || run.path.length < 2 || !(inline.spacingM > 0) || !(inline.firstM >= 0)) return [];
  const length = pathLength(run.path);
  const count = Math.floor((length - inline.firstM) / inline.spacingM + 1e-9) + 1;
  return Array.from({ length: Math.min(Math.max(0, count), MOST_PER_RUN) }, (_, i) =>
    pointAlong(run.path, inline.firstM + i * inline.spacingM),
  );
}

/** Open dots for outlets while nothing is computed. */
export function plainOutletMarks(runs: Table<Run>, emitters: Table<PointEmitter>): Mark[] {
  const inline = runs.toArray().flatMap((run) => {
    const owner = refKey({ table: 'runs', id: run.id });
    return inlinePlaces(run).map((at): Mark => ({ ...plainSymbol('runs'), owner, at }));
  });
  const taps = new Map(
    feedersOf(emitters, runs, null).map(({ emitterId, from }) => [emitterId, from] as const),
  );
  const points = emitters.toArray().map((emitter): Mark => ({
    ...plainSymbol('emitters'),
    owner: refKey({ table: 'emitters', id: emitter.id }),
    at: (emitter.onRun && taps.get(emitter.id)) || emitter.at,
  }));
  return [...inline, ...points];
}
