import type { Point } from '../../../base/point.ts';
import type { HeadFate, LateralFate } from '../../../plan/records.ts';
import type { Notice } from '../../results.ts';
import type { LegAction, LegLies } from './legs.ts';
import type { SpurKind } from './mains.ts';
import type { Barred, Rank } from './rank.ts';

/** One place where drip begins. */
export interface TieInPlace {
  readonly id: string;
  /** Name of the joint. */
  readonly node: string;
  readonly at: Point;
  /** The head that stands there and becomes the tie-in; `null` at a joint without one. */
  readonly headId: string | null;
}

/** Old pipe behind a tie-in in which water would stand. */
export interface DeadLeg {
  /** Name of the live joint on which it hangs, and of all where it closes a ring. */
  readonly joint: string;
  readonly joints: readonly string[];
  readonly jointAt: Point;
  /** Records of the old pipe that it is made of, in whole or in part, and the heads on it. */
  readonly pieces: readonly string[];
  readonly heads: readonly string[];
  readonly lengthM: number;
  /** Uncut; `null` where no bore in it is known. */
  readonly volumeL: number | null;
  /** Length of unknown bore, which is not in the litres. */
  readonly unknownM: number;
  readonly lies: LegLies;
  /** Whether all its water runs out to the joint. */
  readonly drains: boolean;
  readonly action: LegAction;
  /** Which limit it is over, uncut: worth a word over 0.1 gal, a warning over 0.5 gal or 10 ft. */
  readonly limit: 'none' | 'info' | 'warning';
  readonly source: string;
}

/** A record of which parts have different fates: it is cut in these before they can be told. */
export interface RecordSplit {
  readonly lateralId: string;
  readonly parts: readonly {
    readonly from: string;
    readonly to: string;
    readonly a: Point;
    readonly b: Point;
    readonly fate: LateralFate;
  }[];
}

/** One tie-in, or two, as ranked. */
export interface TieIn {
  /** The head's id where a head stands, else the joint's name; of two both, as `H3+H6`. */
  readonly id: string;
  readonly node: string;
  readonly at: Point;
  readonly zone: string | null;
  /** One place, or two. */
  readonly places: readonly TieInPlace[];
  /** From 1, within its zone. */
  readonly rank: number;
  /** Nothing speaks against it from the start: no assumed pipe or steel on the way, and no head that stays a spray. */
  readonly feasible: boolean;
  readonly barred: Barred;
  /** Heads of its valve that stay sprays: the zone has to be split before there is any tie-in. */
  readonly untilSplit: readonly string[];
  /** The valve itself: new pipe from there, all old pipe given up. */
  readonly isValve: boolean;
  /** The litres that it is ranked by, and what they are made of. */
  readonly costL: number;
  readonly cost: Rank['terms'];
  /** Old pipe that carries the drip's water. */
  readonly liveLengthM: number;
  readonly deadLegLengthM: number;
  /** Water in all dead legs if none were cut; `null` where no bore in them is known. */
  readonly deadLegVolumeL: number | null;
  /** Length of dead leg of unknown bore, which is not in the litres. */
  readonly deadLegUnknownM: number;
  readonly legs: readonly DeadLeg[];
  readonly cuts: number;
  /** Water that stays in the legs that are capped and not cut. */
  readonly stagnantVolumeL: number;
  /** All water of the live pipe runs out at the tie-in by gravity; `null` where no slope is known. */
  readonly drains: boolean | null;
  /** Water that does not. */
  readonly trappedVolumeL: number;
  /** Where it stands, lowest first: joints, or `A to B` for a dip between two; there a drain belongs. */
  readonly drainAt: readonly string[];
  /** One way without a leg left on it, so that air blows all water out. */
  readonly blowsOut: boolean;
  /** At most one pipe there, or only pipe that is cut off in any case: teeth, rays, swing pipe. */
  readonly endOfLine: boolean;
  /** What such a place is: end of the header, manifold, last saddle; `null` for any other. */
  readonly mainEnd: string | null;
  /** What it lies on if not on the main pipe: a tooth of a comb, a ray of a star, swing pipe. */
  readonly spur: SpurKind | null;
  /** It lies at the lowest place of the live pipe. */
  readonly lowest: boolean;
  /** Pressure left there with the drip's flow, kPa; `null` where no static pressure is known. */
  readonly pressureKpa: number | null;
  /** Friction of the old pipe on the way, and the lift, kPa. */
  readonly pipeLossKpa: number;
  readonly liftKpa: number;
  readonly flowLph: number;
  /** Fastest water in the old pipe on the way at that flow, m/s. */
  readonly velocityMs: number;
  /** To the nearest bed of the zone, 0 inside; `null` without a bed. */
  readonly distanceToBedM: number | null;
  readonly bedId: string | null;
  /** Beds of the zone that drip reaches without a new crossing, and those that need one. */
  readonly beds: readonly string[];
  readonly bedsMissed: readonly string[];
  /** Joints on the way from which drip reaches beds that it misses: places for further tie-ins. */
  readonly further: readonly string[];
  readonly passesAssumed: boolean;
  readonly galvanised: boolean;
  /** By the id of every head of the zone. */
  readonly fates: Readonly<Record<string, HeadFate>>;
  /** By the id of every old pipe of the zone that the valve reaches; where `splits` names it, the fate of its first part. */
  readonly pieceFates: Readonly<Record<string, LateralFate>>;
  readonly splits: readonly RecordSplit[];
  /** One sentence with the figures that explain the rank. */
  readonly why: string;
}

/** The ranked tie-ins of one zone. */
export interface ZoneTieIns {
  readonly zone: string | null;
  readonly supplyId: string | null;
  /** Best first: every joint, and the best pair. */
  readonly candidates: readonly TieIn[];
  readonly evaluated: { readonly singles: number; readonly pairs: number };
  readonly notices: readonly Notice[];
}
