import { memo } from '../../base/memo.ts';
import type { Head, LateralPipe, Plan, Supply } from '../../plan/records.ts';
import { zonesOfPlan } from './lateral/zone-parts.ts';
import { alikeButFate, steadyTable } from './steady-table.ts';

/** A zone of the old system that has heads: they, and their pipe and valve. */
export interface ExistingZone {
  /** Name of the zone; `null` where neither valve nor heads have one. */
  readonly zone: string | null;
  /** Its valve; `null` where none is drawn, or several are. */
  readonly supply: Supply | null;
  readonly supplies: readonly Supply[];
  readonly heads: readonly Head[];
  readonly laterals: readonly LateralPipe[];
}

/**
 * The zones that have heads, in the natural order of their names (`zonesOfPlan` tells what belongs to which).
 * Remembered for the same tables.
 */
export function existingZones({ heads, laterals, supplies }: OldTables): readonly ExistingZone[] {
  return withFates(heads, laterals, supplies);
}

/**
 * The same zones as they were surveyed: what is to become of heads and pipes may be that of an earlier plan. For all
 * that does not depend on it, so that choosing a tie-in computes nothing of it anew.
 */
export function surveyedZones({ heads, laterals, supplies }: OldTables): readonly ExistingZone[] {
  return withoutFates(steadyHeads(heads), steadyLaterals(laterals), supplies);
}

type OldTables = Pick<Plan, 'heads' | 'laterals' | 'supplies'>;

const zonesOf = (
  heads: Plan['heads'],
  laterals: Plan['laterals'],
  supplies: Plan['supplies'],
): readonly ExistingZone[] =>
  zonesOfPlan({ heads, laterals, supplies })
    .zones.filter((parts) => parts.heads.length > 0)
    .map((parts) => ({
      zone: parts.zone,
      supply: parts.supplies.length === 1 ? parts.supplies[0]! : null,
      supplies: parts.supplies,
      heads: parts.heads,
      laterals: parts.pieces,
    }));
const withFates = memo(zonesOf);
const withoutFates = memo(zonesOf);
const steadyHeads = steadyTable<Head>(alikeButFate);
const steadyLaterals = steadyTable<LateralPipe>(alikeButFate);
