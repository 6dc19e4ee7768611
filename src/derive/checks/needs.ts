import { memo } from '../../base/memo.ts';
import type { Plan } from '../../plan/records.ts';
import type { Results } from '../results.ts';
import { textureOf } from '../soil/index.ts';
import type { Rule } from './check.ts';

interface Known {
  readonly plan: Plan;
  readonly results: Pick<Results, 'outletCount' | 'supplies'>;
}

/** A fact that a rule cannot do without, and where it is given. */
interface Need {
  readonly missing: string;
  isMet(known: Known): boolean;
}

const hasGround = ({ plan }: Known): boolean => plan.levels.size + plan.falls.size > 0;

/** Remembered: it is asked with each answer while a pointer drags, and there may be thousands of plants. */
const hasWaterUse = memo((plants: Plan['plants']): boolean =>
  [...plants].some(({ waterUse }) => waterUse !== null),
);

const NEEDS = {
  drip: {
    missing: 'no outlet is laid out: Lay out',
    isMet: ({ results }) => results.outletCount > 0,
  },
  pressure: {
    missing: 'no pressure is known at a supply: Survey, Water service',
    isMet: ({ results }) => results.supplies.some(({ staticKpa }) => staticKpa !== null),
  },
  supplies: { missing: 'no supply is set: Survey', isMet: ({ plan }) => plan.supplies.size > 0 },
  valve: {
    missing: 'least and most flow of the valve are not typed: Survey, the supply',
    isMet: ({ plan }) =>
      [...plan.supplies].some(({ minFlowLph, maxFlowLph }) => minFlowLph !== null || maxFlowLph !== null),
  },
  control: { missing: 'no control set is drawn: Lay out', isMet: ({ plan }) => plan.controls.size > 0 },
  plants: { missing: 'no plant is set: Survey', isMet: ({ plan }) => plan.plants.size > 0 },
  levels: { missing: 'no levels or falls are measured: Survey', isMet: hasGround },
  falls: { missing: 'no falls are measured: Survey', isMet: ({ plan }) => plan.falls.size > 0 },
  texture: {
    missing: 'the texture of the soil is not known: Survey, Soil',
    isMet: ({ plan }) => textureOf(plan.soil).texture !== null,
  },
  intake: {
    missing: 'neither texture nor intake of the soil is known: Survey, Soil',
    isMet: ({ plan }) => textureOf(plan.soil).texture !== null || plan.soil.intakeMmPerH !== null,
  },
  winter: {
    missing: 'the lowest winter temperature is not typed: Survey, Soil and climate',
    isMet: ({ plan }) => plan.climate.lowestWinterC !== null,
  },
  laterals: { missing: 'no old pipe is drawn: Survey', isMet: ({ plan }) => plan.laterals.size > 0 },
  heads: { missing: 'no head is surveyed: Survey', isMet: ({ plan }) => plan.heads.size > 0 },
  backflow: {
    missing: 'the kind of backflow preventer is not typed: Survey, Water service',
    isMet: ({ plan }) => plan.water.backflowType !== null,
  },
  waterUse: {
    missing: 'no plant has its water use: Survey, the plants',
    isMet: ({ plan }) => hasWaterUse(plan.plants),
  },
  watering: {
    missing: 'minutes and starts are not set at a supply: Survey, the supply',
    isMet: ({ plan }) => [...plan.supplies].some(({ watering }) => watering !== null),
  },
  flushEnds: { missing: 'no flush end is set: Lay out', isMet: ({ plan }) => plan.flushEnds.size > 0 },
  meter: {
    missing: 'the size of the meter is not typed: Survey, Water service',
    isMet: ({ plan }) => plan.water.meterSize !== null,
  },
  static: {
    missing: 'the static pressure is not typed: Survey, Water service',
    isMet: ({ plan }) => plan.water.staticKpa !== null,
  },
} as const satisfies Readonly<Record<string, Need>>;

type NeedName = keyof typeof NEEDS;

/** By the first name that a rule says: what it needs, the most basic first. */
export const NEEDED: Readonly<Record<string, readonly NeedName[]>> = {
  'spray-heads-kept': ['drip', 'heads'],
  'rates-mixed': ['drip'],
  'outlets-dry': ['drip', 'pressure'],
  'outlet-pressure-high': ['drip', 'pressure'],
  'flow-spread': ['drip', 'pressure'],
  'valve-flow-low': ['drip', 'pressure', 'valve'],
  'regulator-flow-low': ['drip', 'control', 'pressure'],
  'regulator-headroom': ['drip', 'control', 'pressure'],
  'no-control-set': ['drip'],
  'filter-after-regulator': ['control'],
  'filter-mesh': ['drip', 'control'],
  'filter-flow-high': ['drip', 'control', 'pressure'],
  'run-too-long': ['drip', 'pressure'],
  'blank-run-long': ['drip'],
  'velocity-high': ['drip', 'pressure'],
  'feeder-long': ['drip'],
  'feeder-shared': ['drip'],
  'plant-one-emitter': ['plants', 'drip'],
  'plant-without-emitter': ['plants', 'drip'],
  'wetted-share': ['plants', 'drip'],
  'emitter-near-stem': ['plants', 'drip'],
  'emitters-downhill': ['plants', 'drip', 'levels'],
  'plain-emitters-levels': ['drip', 'levels'],
  'rows-up-and-down': ['drip', 'levels'],
  'drain-down': ['drip', 'levels'],
  'air-relief-missing': ['drip', 'levels'],
  'lower-third-spacing': ['drip', 'levels'],
  'drip-rate-over-intake': ['drip', 'intake'],
  'spacing-over-spread': ['drip', 'texture'],
  'first-row-near': ['drip'],
  'dead-leg': ['laterals'],
  'tie-in-galvanised': ['laterals'],
  'low-point-drain': ['drip', 'winter', 'levels'],
  'backflow-height': ['backflow'],
  'spray-heads-undecided': ['heads'],
  'water-use-mixed': ['drip', 'waterUse'],
  'station-run-long': ['watering'],
  'flush-velocity-low': ['drip', 'pressure', 'flushEnds'],
  'supply-pressure': ['supplies'],
  'low-static-above-static': ['static'],
  'meter-flow-high': ['drip', 'pressure', 'meter'],
  'outside-levels': ['levels'],
  'fall-closure': ['falls'],
  'falls-apart': ['falls'],
  'loss-left-out': ['pressure'],
};

/**
 * What is missing for a rule to speak at all on this plan, as words with the place where it is given; null when the
 * rule has what it needs. A rule may still leave out single things of which it knows too little.
 */
export function missingFor(rule: Rule, plan: Plan, results: Known['results']): string | null {
  const needs: readonly Need[] = (NEEDED[rule.says[0] ?? ''] ?? []).map((name) => NEEDS[name]);
  return needs.find((need) => !need.isMet({ plan, results }))?.missing ?? null;
}
