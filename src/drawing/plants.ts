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

/** Mature canopy dashed, canopy now solid with a light tint, and the stem; wide canopies lie below narrow ones. */
export function plantMarks(plants: Table<Plant>): Mark[] {
  const widest = plants.toArray().sort((p, q) => q.canopyMatureM - p.canopyMatureM);
  return widest.flatMap((plant): Mark[] => {
    const owner = refKey({ table: 'plants', id: plant.id });
    const marks: Mark[] = [];
    if (plant.canopyNowM !== null && plant.canopyNowM > 0) {
      marks.push({
        kind: 'circle',
        owner,
        at: plant.at,
        radiusM: plant.canopyNowM / 2,
        pen: CANOPY_NOW,
        fill: 'plantFill',
        fillOpacity: CANOPY_OPACITY,
      });
    }
    if (plant.canopyMatureM > 0) {
      marks.push({
        kind: 'circle',
        owner,
        at: plant.at,
        radiusM: plant.canopyMatureM / 2,
        pen: CANOPY_MATURE,
      });
    }
    marks.push({
      kind: 'symbol',
      owner,
      name: 'stem',
      at: plant.at,
      sizeMm: STEM_MM[plant.plantClass],
      pen: STEM_PEN,
    });
    return marks;
  });
}
