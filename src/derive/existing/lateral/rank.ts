import type { Spur, SpurKind } from './mains.ts';

/**
 * How tie-ins are ranked. First by what rules one out (`barred`), then by a cost in litres: the water in the dead legs,
 * and what else speaks against a place, weighed as litres of still water. All weights are common practice put into
 * numbers, for judging old pipe only; they are no quantity of water.
 *
 * A tie-in that does not drain its pipe needs a drain at the low point. Where an end of line drains by itself, that
 * costs a drain and all water that stands (half of both where no frost is), so the low end is taken unless it gives up
 * much more. Where none does, a drain is needed in any case and its water counts little; then a place in the middle of a
 * run pays as much as the best end, even if it drains itself: a dip is no reason to leave a blind tail.
 *
 * Teeth of a comb, rays of a star and swing pipe are left behind whatever they hold, so using one gains nothing
 * (`mainsOf`).
 *
 * Two tie-ins cost as much as the better one of the two alone, and a second filter, regulator and box; only what the
 * second one spares is taken off: water that stays after the cuts, cuts, and crossings. So two come before one where
 * one cannot serve all beds, or where the second spares more than it costs; two arms of a row are one cut, not two
 * tie-ins.
 */

/** A cut with its cap: a hole to dig and a joint to make. */
export const CUT_L = 0.4;
/** A place that is no end of line: what lies behind it has to be closed off, and the old pipe is harder to rinse. */
export const NOT_END_L = 0.5;
/** New pipe to the bed, for each metre over the 3 ft within which a tie-in is near. */
export const BED_L_PER_M = 0.5;
/** A bed that the drip does not reach without a new crossing under paving. */
export const CROSSING_L = 40;
/** A second filter, regulator and box. */
export const SECOND_L = 8;
/** New pipe from the valve in place of the old: only where no old pipe will do. */
export const NEW_FEED_L = 40;
/** A drain with its gravel at the low point of pipe that does not drain by itself. */
export const DRAIN_L = 1;
/** Each litre that stands there: where an end of line drains by itself, and where none does. */
export const TRAPPED_L_PER_L = { avoidable: 1, inAnyCase: 0.2 } as const;
/** What of the two is left where winters stay above freezing. */
export const FROST_FREE_SHARE = 0.5;
/** Each metre that the tie-in lies above the lowest place of its pipe. */
export const RISE_L_PER_M = 0.1;
/** A tie-in on a spur, besides all water of the spur. */
export const SPUR_L: Readonly<Record<SpurKind, number>> = {
  tooth: 1.5,
  ray: 6,
  'swing pipe': 3,
  'pipe of sprays': 30,
};
/** Pressure lost and lifted away between the valve and the tie-in. */
export const PRESSURE_L_PER_KPA = 0.01;

/** What rules a tie-in out: it is ranked behind all others, never left out. */
export type Barred = 'no' | 'assumed pipe on the way' | 'galvanised steel on the way';
const BARRED: readonly Barred[] = ['no', 'assumed pipe on the way', 'galvanised steel on the way'];

/** What is weighed of a tie-in. */
export interface Weighed {
  readonly barred: Barred;
  readonly isValve: boolean;
  /** The joint from which the rays of a star leave. */
  readonly isManifold: boolean;
  /** Whether all water runs out there; so it is taken where no level is known. */
  readonly drains: boolean;
  readonly trappedL: number;
  /** Height above the lowest place of the pipe that carries water. */
  readonly riseM: number;
  /** Off the main pipe; `null` on it. */
  readonly spur: Spur | null;
  /** Water in all dead legs, with the bore taken where none is known. */
  readonly deadL: number;
  readonly cuts: number;
  readonly stagnantL: number;
  /** At most one pipe, spurs not counted. */
  readonly endOfLine: boolean;
  readonly distanceToBedM: number;
  readonly bedsMissed: number;
  /** Pressure lost and lifted away from the valve to here, kPa. */
  readonly dropKpa: number;
}

/** The cost of a tie-in by what it is for, litres. */
export interface CostTerms {
  readonly deadLegs: number;
  readonly cuts: number;
  readonly notEndOfLine: number;
  readonly toBed: number;
  readonly crossings: number;
  readonly newFeed: number;
  readonly undrained: number;
  readonly rise: number;
  readonly spur: number;
  readonly pressure: number;
  /** Of two tie-ins: what the second one costs, less what it spares. */
  readonly second: number;
}

export interface Rank {
  /** Number in `BARRED`. */
  readonly barred: number;
  readonly costL: number;
  readonly terms: CostTerms;
}

/** Frost is only ruled out by a lowest winter temperature above 0 C. */
export function isFrostFree(lowestWinterC: number | null): boolean {
  return lowestWinterC !== null && lowestWinterC > 0;
}

/** How the ends of line of a zone drain. */
export interface Drainage {
  readonly frostFree: boolean;
  /** Whether an end drains by itself, and if none does the least cost of draining of all ends. */
  readonly endDrains: boolean;
  readonly leastL: number;
}

type Drained = Pick<Weighed, 'drains' | 'isValve' | 'trappedL' | 'endOfLine' | 'spur' | 'barred'>;

/** How the ends of line drain that can be used, teeth, rays and swing pipe not counted. */
export function drainageOf(places: readonly Drained[], frostFree: boolean): Drainage {
  const ends = places.filter(
    ({ endOfLine, isValve, spur, barred }) => endOfLine && !isValve && !spur && barred === 'no',
  );
  const endDrains = ends.some(({ drains }) => drains);
  const some = { frostFree, endDrains, leastL: 0 };
  return {
    ...some,
    leastL: ends.reduce((least, end) => Math.min(least, drainCostL(end, some)), endDrains ? 0 : Infinity),
  };
}

function drainCostL(w: Drained, { frostFree, endDrains }: Drainage): number {
  // New pipe from the valve drains by how it is laid.
  if (w.drains || w.isValve) return 0;
  const perL = endDrains ? TRAPPED_L_PER_L.avoidable : TRAPPED_L_PER_L.inAnyCase;
  return (DRAIN_L + perL * w.trappedL) * (frostFree ? FROST_FREE_SHARE : 1);
}

/**
 * The rank of a single tie-in.
 * @param nearM distance to the bed that is still near
 */
export function rankOf(w: Weighed, drainage: Drainage, nearM: number): Rank {
  const drainL = drainCostL(w, drainage);
  const { leastL } = drainage;
  const terms: CostTerms = {
    deadLegs: w.deadL,
    cuts: CUT_L * w.cuts,
    notEndOfLine: w.endOfLine ? 0 : NOT_END_L,
    toBed: BED_L_PER_M * Math.max(0, w.distanceToBedM - nearM),
    crossings: CROSSING_L * w.bedsMissed,
    // A star's manifold may be at the valve itself.
    newFeed: w.isValve && !w.isManifold ? NEW_FEED_L : 0,
    undrained: w.endOfLine || w.isValve || leastL === Infinity ? drainL : Math.max(drainL, leastL),
    rise: RISE_L_PER_M * w.riseM,
    spur: w.spur ? SPUR_L[w.spur.kind] + w.spur.takenL : 0,
    pressure: PRESSURE_L_PER_KPA * Math.max(0, w.dropKpa),
    second: 0,
  };
  return { barred: BARRED.indexOf(w.barred), costL: sumOf(terms), terms };
}

function sumOf(terms: Readonly<Record<keyof CostTerms, number>>): number {
  const parts: readonly number[] = Object.values(terms);
  return parts.reduce((sum, part) => sum + part, 0);
}

/** What is spared, in litres, by what is weighed of the second of two tie-ins. */
type Spared = Pick<Weighed, 'cuts' | 'stagnantL' | 'bedsMissed'>;

/**
 * The cost of two tie-ins, litres, of which the better one alone would cost `costL`.
 * @param spurL what it costs that the second one lies on a spur
 */
export function costOfPair(costL: number, spurL: number, alone: Spared, both: Spared): number {
  return (
    costL +
    spurL +
    SECOND_L -
    (alone.stagnantL - both.stagnantL) -
    CUT_L * (alone.cuts - both.cuts) -
    CROSSING_L * (alone.bedsMissed - both.bedsMissed)
  );
}

/** The rank of two tie-ins, of which `better` and `other` are the ranks of each alone. */
export function rankOfPair(better: Rank, other: Rank, alone: Spared, both: Weighed): Rank {
  const costL = costOfPair(better.costL, other.terms.spur, alone, both);
  return {
    barred: BARRED.indexOf(both.barred),
    costL,
    terms: { ...better.terms, second: costL - better.costL },
  };
}

/** Orders ranks, best first; 0 for equal ones. Less than a millionth of a litre is no difference. */
export function compareRanks(a: Rank, b: Rank): number {
  if (a.barred !== b.barred) return a.barred - b.barred;
  return Math.abs(a.costL - b.costL) < 1e-6 ? 0 : a.costL - b.costL;
}
