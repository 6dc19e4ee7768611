import { memo } from '../../base/memo.ts';
import type { Head, LateralPipe, Plan, Supply } from '../../plan/records.ts';
import { zonesOfPlan } from './lateral/zone-parts.ts';

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
export function existingZones({
  heads,
  laterals,
  supplies,
}: Pick<Plan, 'heads' | 'laterals' | 'supplies'>): readonly ExistingZone[] {
  return remembered(heads, laterals, supplies);
}

const remembered = memo(
  (heads: Plan['heads'], laterals: Plan['laterals'], supplies: Plan['supplies']): readonly ExistingZone[] =>
    zonesOfPlan({ heads, laterals, supplies })
      .zones.filter((parts) => parts.heads.length > 0)
      .map((parts) => ({
        zone: parts.zone,
        supply: parts.supplies.length === 1 ? parts.supplies[0]! : null,
        supplies: parts.supplies,
        heads: parts.heads,
        laterals: parts.pieces,
      })),
);
