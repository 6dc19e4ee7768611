import type { Table } from '../base/table.ts';
import { refKey, type Plant, type PlantClass } from '../plan/records.ts';
import { PEN } from './inks.ts';
import type { Mark, Pen } from './marks.ts';

export const CANOPY_NOW: Pen = { ink: 'plant', widthMm: PEN.fine };
export const CANOPY_MATURE: Pen = { ink: 'plant', widthMm: PEN.thin, dashMm: [1.8, 1] };
export const CANOPY_OPACITY = 0.4;
export const STEM_PEN: Pen = { ink: 'plant', widthMm: PEN.fine };

/** Stem crosses by class: trees largest. */
export const STEM_MM: Readonly<Record<PlantClass, number>> = {
  tree: 2.6,
  shrub: 1.9,
  perennial: 1.4,
  groundcover: 1.2,
};

/**
 * Canopies now in a light tint, then mature ones dashed, then all stems, so that no stem is hidden; wide canopies lie
 * below narrow ones.
 */
export function plantMarks(plants: Table<Plant>): Mark[] {
  const widest = plants.toArray().sort((p, q) => q.canopyMatureM - p.canopyMatureM);
  const now: Mark[] = [];
  const mature: Mark[] = [];
  const stems: Mark[] = [];
  for (const { id, at, canopyNowM, canopyMatureM, plantClass } of widest) {
    const owner = refKey({ table: 'plants', id });
    if (canopyNowM !== null && canopyNowM > 0) {
      now.push({
        kind: 'circle',
        owner,
        at,
        radiusM: canopyNowM / 2,
        pen: CANOPY_NOW,
        fill: 'plantFill',
        fillOpacity: CANOPY_OPACITY,
      });
    }
    if (canopyMatureM > 0) {
      mature.push({ kind: 'circle', owner, at, radiusM: canopyMatureM / 2, pen: CANOPY_MATURE });
    }
    stems.push({ kind: 'symbol', owner, name: 'stem', at, sizeMm: STEM_MM[plantClass], pen: STEM_PEN });
  }
  return [...now, ...mature, ...stems];
}
