import type { Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import { FOOT_M } from '../../base/units.ts';
import { UNMEASURED_HEAD } from '../../plan/empty.ts';
import type { Area, AreaUse, Fill, FillChoices, Head, Level, Plan, Plant, Run } from '../../plan/records.ts';
import { blank, control, dripline, level, planOf, supply } from '../plan-for-tests.ts';

export const FT = FOOT_M;
export const IN = FOOT_M / 12;

export function areaOf(
  id: string,
  use: AreaUse,
  minX: number,
  minY: number,
  maxX: number,
  maxY: number,
): Area {
  const outline: Point[] = [
    [minX, minY],
    [maxX, minY],
    [maxX, maxY],
    [minX, maxY],
  ];
  return { id, use, name: '', outline, holes: [] };
}

/** Ground that rises northwards by a slope in percent. */
export function rising(percent: number): Level[] {
  const far = 60;
  return [
    level('l1', -far, -far, (-far * percent) / 100),
    level('l2', far, -far, (-far * percent) / 100),
    level('l3', far, far, (far * percent) / 100),
    level('l4', -far, far, (far * percent) / 100),
  ];
}

export function plantOf(id: string, at: Point, more: Partial<Plant> = {}): Plant {
  return {
    id,
    at,
    name: id,
    plantClass: 'shrub',
    canopyNowM: null,
    canopyMatureM: 1,
    rootBallM: null,
    waterUse: null,
    ...more,
  };
}

export function headOf(id: string, at: Point, more: Partial<Head> = {}): Head {
  return { ...UNMEASURED_HEAD, id, at, ...more };
}

export const CHOICES: FillChoices = {
  pattern: 'straight',
  rowSpacingM: 18 * IN,
  emitterSpacingM: 18 * IN,
  ratedFlowLph: 2.3,
  law: 'inline-pc',
  tubing: 'inline-17',
  headerTubing: 'blank-17',
  edgeM: 4 * IN,
  direction: 'contour',
  stagger: true,
  lowerThirdFactor: 1,
  leaveOut: [],
  headers: 'both ends',
  equalise: true,
};

/** A fill that owns some runs of the bed `B`. */
export function fillOf(runIds: readonly string[], more: Partial<FillChoices> = {}, byHand = false): Fill {
  return { id: 'F', kind: 'bed', areaId: 'B', runIds, byHand, choices: { ...CHOICES, ...more } };
}

/**
 * A bed of 12 by 6 m with rows from west to east at the given northings, from a header at its west end; the valve
 * stands at the header's lower end.
 */
export function grid(
  northings: readonly number[],
  {
    percent = 0,
    law = 'inline-pc',
    spacingM = 18 * IN,
    headerTubing = 'blank-17',
  }: {
    readonly percent?: number;
    readonly law?: string;
    readonly spacingM?: number;
    readonly headerTubing?: string;
  } = {},
): Plan {
  const header: Run = {
    ...blank('H', [0.1, 0], ...northings.map((y): Point => [0.1, y])),
    tubing: headerTubing,
  };
  const rows = northings.map((y, k) =>
    dripline(
      `R${k}`,
      [
        [0.1, y],
        [11.9, y],
      ],
      { law, spacingM, firstM: spacingM / 2 },
    ),
  );
  const plan = planOf({
    levels: percent === 0 ? [] : rising(percent),
    supplies: [supply('V', [0.1, 0])],
    controls: [control('C', [0.1, 0])],
    runs: [header, ...rows],
  });
  return { ...plan, areas: Table.of([areaOf('B', 'bed', 0, 0, 12, 6)]) };
}

/** Northings from a first one on, so many metres apart. */
export function every(stepM: number, firstM = 0.1, lastM = 5.95): number[] {
  return Array.from(
    { length: Math.floor((lastM - firstM) / stepM + 1e-9) + 1 },
    (_, k) => firstM + k * stepM,
  );
}
