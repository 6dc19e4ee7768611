import { formatQuantity, unitLabel, type UnitSystem } from '../base/quantity.ts';
import type { OutletState, Results } from '../derive/results.ts';
import type { HeadFate, Plan } from '../plan/records.ts';
import { AREA_LOOKS, AREA_OPACITY } from './areas.ts';
import { CONTOUR_PEN, contourInterval } from './contours.ts';
import { CONTROL_SYMBOL, SUPPLY_SYMBOL } from './equipment.ts';
import { BLOCKED_SIGN, fateSign, HEAD_MM, HEAD_PEN, headFill, SECTOR_PEN } from './existing.ts';
import { contoursOfPlan } from '../derive/ground/contours.ts';
import { fallHead } from './falls.ts';
import { LEVEL_SYMBOL } from './levels.ts';
import type { Color, Pen, SymbolMark } from './marks.ts';
import { pipeLegend } from './pipe-legend.ts';
import { ALERT_LOOKS, alertSymbol, plainSymbol, pressureRangeOf } from './outlets.ts';
import { CANOPY_MATURE, CANOPY_NOW, CANOPY_OPACITY, STEM_MM, STEM_PEN } from './plants.ts';
import { pressureRamp, type ColourRange } from './pressure-ramp.ts';
import { CHECK_VALVE_SYMBOL, FLUSH_END_SYMBOL, LINE_PART_SYMBOLS } from './run-parts.ts';
import { BLANK_PEN, FEEDER_PEN, INLINE_PEN, OPEN_END } from './tubing.ts';

/** What stands in a legend's left column; symbols are drawn over lines. */
export interface Sample {
  /** A level line through the middle of the sample. */
  readonly line?: Pen;
  /** A tinted box with its outline. */
  readonly box?: { readonly fill: Color; readonly opacity: number; readonly pen: Pen };
  /** A round tint, for canopies. */
  readonly round?: { readonly fill?: Color; readonly opacity?: number; readonly pen: Pen };
  readonly symbols: readonly Omit<SymbolMark, 'at'>[];
}

export interface RampStop {
  readonly pressureKpa: number;
  readonly color: `#${string}`;
  /** With its unit, and without. */
  readonly words: string;
  readonly figure: string;
}

export type LegendEntry =
  | { readonly kind: 'mark'; readonly sample: Sample; readonly words: string }
  | { readonly kind: 'ramp'; readonly words: string; readonly stops: readonly RampStop[] };

/** Stops of the ramp, fewer where their figures would repeat. */
const STOPS = [5, 3];
/** Digits to try: the usual ones, then one more. */
const MORE_DIGITS: Readonly<Record<UnitSystem, number>> = { us: 2, metric: 3 };

/** Stops over a range with figures that all differ; a range without width has one. */
function rampStops({ minKpa, maxKpa }: ColourRange, units: UnitSystem): RampStop[] {
  const stopsOf = (count: number, digits?: number): RampStop[] =>
    Array.from({ length: count }, (_, i): RampStop => {
      const share = count > 1 ? i / (count - 1) : 0.5;
      const pressureKpa = minKpa + (maxKpa - minKpa) * share;
      const how = digits === undefined ? {} : { digits };
      return {
        pressureKpa,
        color: pressureRamp(share),
        words: formatQuantity('pressure', pressureKpa, units, how),
        figure: formatQuantity('pressure', pressureKpa, units, { ...how, unit: false }),
      };
    });
  for (const digits of [undefined, MORE_DIGITS[units]]) {
    for (const count of STOPS) {
      const stops = stopsOf(count, digits);
      if (new Set(stops.map(({ figure }) => figure)).size === count) return stops;
    }
  }
  return stopsOf(1);
}

/**
 * Legend of a drawing. Pressures come first: the ramp from lowest to highest with its figures, and the sign of
 * each state outside the range that occurs in the results. With a plan the signs that its drawing uses follow.
 * `colourRange` must be the one given to `drawPlan`.
 */
export function legendOf(
  results: Results | null,
  units: UnitSystem,
  plan: Plan | null = null,
  colourRange: ColourRange | null = null,
): LegendEntry[] {
  return [...pressureLegend(results, units, colourRange), ...(plan ? signLegend(plan, results, units) : [])];
}

function pressureLegend(
  results: Results | null,
  units: UnitSystem,
  colourRange: ColourRange | null,
): LegendEntry[] {
  if (!results) return [];
  const entries: LegendEntry[] = [];
  const range = colourRange ?? pressureRangeOf(results.outlets);
  if (range) {
    const stops = rampStops(range, units);
    const words = `Pressure at the outlet, ${unitLabel('pressure', units)}`;
    entries.push({ kind: 'ramp', words, stops });
  }
  const states = new Set<OutletState>(results.outlets.map((outlet) => outlet.state));
  for (const state of ['low', 'high', 'dry', 'apart'] as const) {
    if (!states.has(state)) continue;
    entries.push(mark({ symbols: [alertSymbol(state)] }, ALERT_LOOKS[state].words));
  }
  return entries;
}

function mark(sample: Sample, words: string): LegendEntry {
  return { kind: 'mark', sample, words };
}

const FATE_WORDS: Readonly<Record<HeadFate, string>> = {
  undecided: 'existing spray head',
  keep: 'existing head, kept',
  'tie-in': 'head becomes the tie-in',
  cap: 'head capped',
  'cut off': 'head cut off',
};

/** The signs that a plan's drawing uses, from new work to what is there already. */
function signLegend(plan: Plan, results: Results | null, units: UnitSystem): LegendEntry[] {
  const entries: LegendEntry[] = [];
  const add = (used: boolean, sample: Sample, words: string): void => {
    if (used) entries.push(mark(sample, words));
  };
  const runs = plan.runs.toArray();
  add(plan.supplies.size > 0, { symbols: [{ kind: 'symbol', ...SUPPLY_SYMBOL }] }, 'valve (supply)');
  add(
    plan.controls.size > 0,
    { symbols: [{ kind: 'symbol', ...CONTROL_SYMBOL }] },
    'filter and pressure regulator',
  );
  add(
    runs.some((run) => run.inline !== null),
    { line: INLINE_PEN, symbols: [plainSymbol('runs')] },
    'dripline with built-in emitters',
  );
  add(
    runs.some((run) => run.inline === null),
    { line: BLANK_PEN, symbols: [] },
    'blank tubing',
  );
  add(plan.emitters.size > 0, { symbols: [plainSymbol('emitters')] }, 'point emitter');
  const fed = !results || results.outlets.some((outlet) => outlet.feederM > 0);
  add(plan.emitters.size > 0 && fed, { line: FEEDER_PEN, symbols: [] }, 'feeder tube');
  const isOpen = fed && [...plan.emitters].some(({ onRun }) => onRun);
  add(
    isOpen,
    { line: FEEDER_PEN, symbols: [OPEN_END] },
    'feeder open at the plant, its emitter on the tubing',
  );
  const checkValve = { kind: 'symbol', ...CHECK_VALVE_SYMBOL } as const;
  add(plan.checkValves.size > 0, { symbols: [checkValve] }, 'check valve, water passes towards the bar');
  for (const [kind, symbol] of Object.entries(LINE_PART_SYMBOLS)) {
    const there = [...plan.lineParts].some((part) => part.kind === kind);
    add(there, { symbols: [{ kind: 'symbol', ...symbol }] }, kind);
  }
  const flushEnd = { kind: 'symbol', ...FLUSH_END_SYMBOL, turnDeg: 90 } as const;
  add(plan.flushEnds.size > 0, { symbols: [flushEnd] }, 'flush end');
  for (const [use, words] of [
    ['bed', 'bed'],
    ['paving', 'paving'],
    ['lawn', 'lawn'],
    ['building', 'building, wall'],
  ] as const) {
    const { fill, pen } = AREA_LOOKS[use];
    const used = plan.areas.toArray().some((area) => area.use === use);
    add(used, { box: { fill, opacity: AREA_OPACITY, pen }, symbols: [] }, words);
  }
  addPlants(plan, add);
  addExisting(plan, add);
  add(plan.levels.size > 0, { symbols: [{ kind: 'symbol', ...LEVEL_SYMBOL }] }, 'spot height');
  add(plan.falls.size > 0, { symbols: [fallHead(0)] }, 'measured fall, points downhill');
  const { contourM } = plan.site;
  if (contourM !== null) {
    const words = `contour line every ${contourInterval(contourM, units)}, dashed beyond the levels`;
    add(contoursOfPlan(plan).length > 0, { line: CONTOUR_PEN, symbols: [] }, words);
  }
  return entries;
}

type Add = (used: boolean, sample: Sample, words: string) => void;

function addPlants(plan: Plan, add: Add): void {
  const plants = plan.plants.toArray();
  const stem = { kind: 'symbol', name: 'stem', sizeMm: STEM_MM.shrub, pen: STEM_PEN } as const;
  add(
    plants.some((plant) => plant.canopyNowM !== null),
    { round: { fill: 'plantFill', opacity: CANOPY_OPACITY, pen: CANOPY_NOW }, symbols: [stem] },
    'plant, canopy now',
  );
  add(plants.length > 0, { round: { pen: CANOPY_MATURE }, symbols: [stem] }, 'plant, mature canopy');
}

function addExisting(plan: Plan, add: Add): void {
  const heads = plan.heads.toArray();
  for (const fate of ['undecided', 'keep', 'tie-in', 'cap', 'cut off'] as const) {
    const sign = fateSign(fate);
    const head = { kind: 'symbol', name: 'head', sizeMm: HEAD_MM, pen: HEAD_PEN } as const;
    const symbols: Omit<SymbolMark, 'at'>[] = [{ ...head, fill: headFill(fate) }];
    if (sign) symbols.push({ kind: 'symbol', ...sign });
    add(
      heads.some((placed) => placed.fate === fate),
      { symbols },
      FATE_WORDS[fate],
    );
  }
  add(
    heads.some((head) => head.pattern !== null),
    { line: SECTOR_PEN, symbols: [] },
    'ground that a head wets',
  );
  const blocked = { kind: 'symbol', ...BLOCKED_SIGN, shiftMm: [0, 0] } as const;
  add(
    heads.some((head) => head.blocked === true),
    { symbols: [blocked] },
    'head whose spray is blocked',
  );
  for (const { sample, words } of pipeLegend(plan)) add(true, sample, words);
}
