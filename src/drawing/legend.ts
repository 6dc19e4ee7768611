import { formatQuantity, unitLabel, type UnitSystem } from '../base/quantity.ts';
import type { OutletState, Results } from '../derive/results.ts';
import type { HeadFate, Plan } from '../plan/records.ts';
import { AREA_LOOKS, AREA_OPACITY } from './areas.ts';
import { CONTROL_SYMBOL, SUPPLY_SYMBOL } from './equipment.ts';
import { ASSUMED_PIPE, fateSign, HEAD_MM, HEAD_PEN, headFill, OLD_PIPE, SECTOR_PEN } from './existing.ts';
import { LEVEL_SYMBOL } from './levels.ts';
import type { Color, Pen, SymbolMark } from './marks.ts';
import { ALERT_LOOKS, alertSymbol, plainSymbol, pressureRangeOf } from './outlets.ts';
import { CANOPY_MATURE, CANOPY_NOW, CANOPY_OPACITY, STEM_MM, STEM_PEN } from './plants.ts';
import { pressureRamp, type ColourRange } from './pressure-ramp.ts';
import { BLANK_PEN, FEEDER_PEN, INLINE_PEN } from './tubing.ts';

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

const STOPS = 5;

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
  return [...pressureLegend(results, units, colourRange), ...(plan ? signLegend(plan, results) : [])];
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
    const stops = Array.from({ length: STOPS }, (_, i): RampStop => {
      const share = i / (STOPS - 1);
      const pressureKpa = range.minKpa + (range.maxKpa - range.minKpa) * share;
      return {
        pressureKpa,
        color: pressureRamp(share),
        words: formatQuantity('pressure', pressureKpa, units),
        figure: formatQuantity('pressure', pressureKpa, units, { unit: false }),
      };
    });
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
function signLegend(plan: Plan, results: Results | null): LegendEntry[] {
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
  for (const [use, words] of [
    ['bed', 'bed'],
    ['paving', 'paving'],
    ['lawn', 'lawn'],
  ] as const) {
    const { fill, pen } = AREA_LOOKS[use];
    const used = plan.areas.toArray().some((area) => area.use === use);
    add(used, { box: { fill, opacity: AREA_OPACITY, pen }, symbols: [] }, words);
  }
  addPlants(plan, add);
  addExisting(plan, add);
  add(plan.levels.size > 0, { symbols: [{ kind: 'symbol', ...LEVEL_SYMBOL }] }, 'spot height');
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
  const pipes = plan.laterals.toArray();
  add(
    pipes.some((pipe) => pipe.measured),
    { line: OLD_PIPE, symbols: [] },
    'existing lateral, measured',
  );
  add(
    pipes.some((pipe) => !pipe.measured),
    { line: ASSUMED_PIPE, symbols: [] },
    'existing lateral, assumed',
  );
}
