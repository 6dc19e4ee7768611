import type { Point, Ring } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import { FOOT_M, GALLON_L } from '../../base/units.ts';
import { emptyPlan } from '../../plan/empty.ts';
import type { Area, Plan } from '../../plan/records.ts';
import type { FillChoices } from './choices.ts';

/** Short ways to write a bed in tests. */

export const FT = FOOT_M;
export const IN = FOOT_M / 12;

export const CHOICES: FillChoices = {
  pattern: 'straight',
  rowSpacingM: 18 * IN,
  emitterSpacingM: 18 * IN,
  ratedFlowLph: 0.6 * GALLON_L,
  law: 'inline-pc',
  tubing: 'inline-17',
  headerTubing: 'blank-half-600',
  edgeM: 4 * IN,
  direction: 'long edge',
  stagger: true,
  lowerThirdFactor: 1,
  leaveOut: [],
  headers: 'both ends',
  equalise: true,
};

export function area(id: string, outline: Ring, more: Partial<Area> = {}): Area {
  return { id, use: 'bed', name: '', outline, holes: [], ...more };
}

export function rectangle(x: number, y: number, width: number, height: number): Point[] {
  return [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ];
}

/** Areas on ground that rises by a share per metre east and north, with levels at the corners of a box. */
export function bedPlan(areas: readonly Area[], east = 0, north = 0): Plan {
  const corners: Point[] = rectangle(-10, -10, 200, 100);
  return {
    ...emptyPlan('test'),
    areas: Table.of(areas),
    levels: Table.of(
      east === 0 && north === 0
        ? []
        : corners.map((at, i) => ({ id: `Z${i + 1}`, at, zM: at[0] * east + at[1] * north })),
    ),
  };
}
