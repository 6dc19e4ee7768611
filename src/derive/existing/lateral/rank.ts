/**
 * How tie-ins are ranked. First by what rules one out (`barred`), then by whether all water drains, then by a cost in
 * litres: the water in the dead legs, and what else speaks against a place, weighed as litres of still water. All
 * weights are common practice put into numbers, for judging old pipe only; they are no quantity of water.
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
/** New pipe from the valve in place of the old. */
export const NEW_FEED_L = 15;
/** Water that does not drain where winters stay above freezing; elsewhere draining goes before all litres. */
export const UNDRAINED_L = 5;
/** For each litre that does not drain. */
export const TRAPPED_L_PER_L = 0.1;
/** Pressure lost and lifted away between the valve and the tie-in. */
export const PRESSURE_L_PER_KPA = 0.01;

/** What rules a tie-in out: it is ranked behind all others, never left out. */
export type Barred = 'no' | 'assumed pipe on the way' | 'galvanised steel on the way';
const BARRED: readonly Barred[] = ['no', 'assumed pipe on the way', 'galvanised steel on the way'];

/** What is weighed of a tie-in. */
export interface Weighed {
  readonly barred: Barred;
  readonly isValve: boolean;
  readonly drains: boolean;
  readonly trappedL: number;
  /** Water in all dead legs, with the bore taken where none is known. */
  readonly deadL: number;
  readonly cuts: number;
  readonly stagnantL: number;
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
  readonly trapped: number;
  readonly pressure: number;
  /** Of two tie-ins: what the second one costs, less what it spares. */
  readonly second: number;
}

export interface Rank {
  /** Number in `BARRED`. */
  readonly barred: number;
  /** 1 where draining goes before all litres and not all water drains, else 0. */
  readonly undrained: number;
  readonly costL: number;
  readonly terms: CostTerms;
}

/** Frost is only ruled out by a lowest winter temperature above 0 C. */
export function isFrostFree(lowestWinterC: number | null): boolean {
  return lowestWinterC !== null && lowestWinterC > 0;
}

/** The rank of a single tie-in. `nearM`: distance to the bed that is still near. */
export function rankOf(w: Weighed, frostFree: boolean, nearM: number): Rank {
  // New pipe from the valve drains by how it is laid; it is no reason to leave old pipe that would serve.
  const undrained = !w.drains || w.isValve;
  const terms: CostTerms = {
    deadLegs: w.deadL,
    cuts: CUT_L * w.cuts,
    notEndOfLine: w.endOfLine ? 0 : NOT_END_L,
    toBed: BED_L_PER_M * Math.max(0, w.distanceToBedM - nearM),
    crossings: CROSSING_L * w.bedsMissed,
    newFeed: w.isValve ? NEW_FEED_L : 0,
    undrained: undrained && frostFree ? UNDRAINED_L : 0,
    trapped: TRAPPED_L_PER_L * w.trappedL,
    pressure: PRESSURE_L_PER_KPA * Math.max(0, w.dropKpa),
    second: 0,
  };
  return {
    barred: BARRED.indexOf(w.barred),
    undrained: undrained && !frostFree ? 1 : 0,
    costL: sumOf(terms),
    terms,
  };
}

function sumOf(terms: Readonly<Record<keyof CostTerms, number>>): number {
  const parts: readonly number[] = Object.values(terms);
  return parts.reduce((sum, part) => sum + part, 0);
}

/** What is spared, in litres, by what is weighed of the second of two tie-ins. */
type Spared = Pick<Weighed, 'cuts' | 'stagnantL' | 'bedsMissed'>;

/** The cost of two tie-ins, litres, of which the better one alone would cost `costL`. */
export function costOfPair(costL: number, alone: Spared, both: Spared): number {
  return (
    costL +
    SECOND_L -
    (alone.stagnantL - both.stagnantL) -
    CUT_L * (alone.cuts - both.cuts) -
    CROSSING_L * (alone.bedsMissed - both.bedsMissed)
  );
}

/** The rank of two tie-ins, of which `better` is the rank of the better one alone. */
export function rankOfPair(better: Rank, alone: Spared, both: Weighed): Rank {
  const costL = costOfPair(better.costL, alone, both);
  return {
    barred: BARRED.indexOf(both.barred),
    undrained: better.undrained,
    costL,
    terms: { ...better.terms, second: costL - better.costL },
  };
}

/** Orders ranks, best first; 0 for equal ones. Less than a millionth of a litre is no difference. */
export function compareRanks(a: Rank, b: Rank): number {
  if (a.barred !== b.barred) return a.barred - b.barred;
  if (a.undrained !== b.undrained) return a.undrained - b.undrained;
  return Math.abs(a.costL - b.costL) < 1e-6 ? 0 : a.costL - b.costL;
}
