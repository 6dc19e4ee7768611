import type { Table } from '../base/table.ts';
import { refKey, type Area, type AreaUse } from '../plan/records.ts';
import { PEN } from './inks.ts';
import type { Ink, Mark, Pen } from './marks.ts';

interface Look {
  readonly fill: Ink;
  readonly pen: Pen;
}

/** Tint and outline of each use; light enough that a photo below stays readable. */
export const AREA_LOOKS: Readonly<Record<AreaUse, Look>> = {
  bed: { fill: 'bed', pen: { ink: 'line', widthMm: PEN.medium } },
  paving: { fill: 'paving', pen: { ink: 'soft', widthMm: PEN.thin } },
  lawn: { fill: 'lawn', pen: { ink: 'soft', widthMm: PEN.thin } },
  building: { fill: 'soft', pen: { ink: 'line', widthMm: PEN.medium } },
};
export const AREA_OPACITY = 0.45;

const ORDER: readonly AreaUse[] = ['lawn', 'paving', 'bed', 'building'];

/** Lawns lowest, then paving, beds, buildings; of one use in the order of the plan. */
export function areaMarks(areas: Table<Area>): Mark[] {
  const all = areas.toArray();
  return ORDER.flatMap((use) => all.filter((area) => area.use === use)).map((area) => ({
    kind: 'path',
    owner: refKey({ table: 'areas', id: area.id }),
    lines: [area.outline, ...area.holes],
    closed: true,
    fill: AREA_LOOKS[area.use].fill,
    fillOpacity: AREA_OPACITY,
    pen: AREA_LOOKS[area.use].pen,
  }));
}
