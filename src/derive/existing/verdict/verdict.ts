import type { Ref } from '../../../plan/records.ts';

/** `convert`: to drip; `split`: first take apart what shares the valve; `leave`: as it is. */
export type Outcome = 'convert' | 'split' | 'leave';

/** The rules of the verdict; docs/decide.md tells each with its number and source. */
export type VerdictRule =
  | 'rate-over-intake'
  | 'time-to-ponding'
  | 'overspray-share'
  | 'spray-near-paving'
  | 'blocked-heads'
  | 'steep-slope'
  | 'shared-valve'
  | 'nothing-to-convert'
  | 'mixed-water-use'
  | 'valve-minimum'
  | 'pressure-budget'
  | 'galvanised'
  | 'large-trees'
  | 'unknown-pipe';

/** One thing that speaks for or against drip, or that has to be seen to. */
export interface Reason {
  readonly rule: VerdictRule;
  /** The zone that it is about; `null` for the zone without a name. */
  readonly zone: string | null;
  /** The figure found and the limit that it is held against, in `unit`; `null` where the rule counts nothing. */
  readonly value: number | null;
  readonly limit: number | null;
  /** SI unit of value and limit: `mm/h`, `min`, `%`, `m`, `L/h`, `kPa`, or empty for a count. */
  readonly unit: string;
  /** Where the limit comes from. */
  readonly source: string;
  /** Whether the zone cannot be converted until this is dealt with. */
  readonly blocks: boolean;
  readonly speaks: 'for' | 'against' | 'condition';
  /** One sentence with the figures in the person's units. */
  readonly message: string;
  /** What can be done about it, each a plain sentence; empty where nothing need be done. */
  readonly waysOut: readonly string[];
  /** The records concerned, for showing them on the plan. */
  readonly refs: readonly Ref[];
}

export interface ZoneVerdict {
  readonly zone: string | null;
  readonly supplyId: string | null;
  readonly outcome: Outcome;
  /** Blocks first, then what speaks for drip, then conditions. */
  readonly reasons: readonly Reason[];
  /** Rules that were held against their limit and found nothing to say, with the figures all the same. */
  readonly clear: readonly Reason[];
}

/** Whether to convert, for each zone and in all. */
export interface Verdict {
  readonly outcome: Outcome;
  /** All reasons of all zones, in the order of the zones. */
  readonly reasons: readonly Reason[];
  readonly clear: readonly Reason[];
  readonly zones: readonly ZoneVerdict[];
  /** What to measure so that the rules that had no data can speak; plain sentences, each once. */
  readonly missing: readonly string[];
}
