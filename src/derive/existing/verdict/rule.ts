import type { UnitSystem } from '../../../base/quantity.ts';
import type { Head, LateralPipe, Plan, Plant, Ref, TableName } from '../../../plan/records.ts';
import type { SoilIntake } from '../../soil/index.ts';
import type { BedCoverage, ZoneCoverage } from '../coverage/index.ts';
import type { CountedKind, ExpectedDrip } from '../expected-drip.ts';
import type { ExistingZone } from '../zones.ts';
import type { PressureAtFilter } from './filter-pressure.ts';
import type { Reason } from './verdict.ts';

/** What a rule may look at: one zone and what follows from the plan for it. */
export interface ZoneInput {
  readonly plan: Plan;
  readonly units: UnitSystem;
  readonly zone: ExistingZone;
  /** Heads for beds, of this zone. */
  readonly bedHeads: readonly Head[];
  readonly coverage: ZoneCoverage;
  /** Beds that its heads reach; without any pattern, all beds. */
  readonly beds: readonly BedCoverage[];
  /** Ids of the beds that no head of another zone reaches. */
  readonly ownBeds: ReadonlySet<string>;
  /** Mean slope of the beds, percent; `null` where not known. */
  readonly slopePercent: number | null;
  readonly intake: SoilIntake | null;
  readonly expected: ExpectedDrip | null;
  readonly pressure: PressureAtFilter | null;
  readonly plants: readonly Plant[];
  /** Kinds of the plant list that are not placed yet, with how many are left; only where there is one zone. */
  readonly kinds: readonly CountedKind[];
  readonly laterals: readonly LateralPipe[];
}

/** What a rule found. */
export interface Finding {
  readonly reasons: readonly Reason[];
  /** Held against the limit, and in order. */
  readonly clear: readonly Reason[];
  /** What to measure so that it can tell. */
  readonly missing: readonly string[];
}

/** One rule of the verdict. */
export type Rule = (input: ZoneInput) => Finding;

export const NOTHING: Finding = { reasons: [], clear: [], missing: [] };

export function lacks(...missing: string[]): Finding {
  return { ...NOTHING, missing };
}

export function allOf(...findings: readonly Finding[]): Finding {
  return {
    reasons: findings.flatMap(({ reasons }) => reasons),
    clear: findings.flatMap(({ clear }) => clear),
    missing: findings.flatMap(({ missing }) => missing),
  };
}

type Said = Pick<Reason, 'rule' | 'message' | 'source' | 'speaks'> &
  Partial<Pick<Reason, 'value' | 'limit' | 'unit' | 'blocks' | 'waysOut' | 'refs'>>;

function reason(zone: ExistingZone, said: Said): Reason {
  return {
    zone: zone.zone,
    value: null,
    limit: null,
    unit: '',
    blocks: false,
    waysOut: [],
    refs: [],
    ...said,
  };
}

export function says({ zone }: ZoneInput, said: Said): Finding {
  return { ...NOTHING, reasons: [reason(zone, said)] };
}

/** A rule that found nothing to say against its limit. */
export function clears({ zone }: ZoneInput, said: Omit<Said, 'speaks'>): Finding {
  return { ...NOTHING, clear: [reason(zone, { ...said, speaks: 'condition' })] };
}

export function refsTo<K extends TableName>(table: K, records: readonly { readonly id: string }[]): Ref<K>[] {
  return records.map(({ id }) => ({ table, id }));
}
