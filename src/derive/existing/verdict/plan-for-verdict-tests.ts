import type { Point } from '../../../base/point.ts';
import { Table } from '../../../base/table.ts';
import { FOOT_M, GPM_LPH, PSI_KPA } from '../../../base/units.ts';
import { emptyPlan, UNMEASURED_HEAD } from '../../../plan/empty.ts';
import type { Area, Head, LateralPipe, Plan, Plant, Supply } from '../../../plan/records.ts';
import { lateral, supply } from '../../plan-for-tests.ts';
import { verdictOf, type Reason, type VerdictRule } from './index.ts';

/** A plan of which nothing speaks for or against drip; each test changes what its rule looks at. */

export const FT = FOOT_M;
export const GPM = GPM_LPH;
export const KPA_PER_PSI = PSI_KPA;

export function box(x: number, y: number, w: number, h: number): Point[] {
  return [
    [x, y],
    [x + w, y],
    [x + w, y + h],
    [x, y + h],
  ];
}

export function area(id: string, use: Area['use'], outline: Point[]): Area {
  return { id, use, name: id, outline, holes: [] };
}

export function head(id: string, at: Point, more: Partial<Head> = {}): Head {
  return {
    ...UNMEASURED_HEAD,
    id,
    at,
    flowLph: 0.5 * GPM,
    pattern: { kind: 'sector', radiusM: 2, startDeg: 0, sweepDeg: 360 },
    blocked: false,
    ...more,
  };
}

export function plant(id: string, at: Point, more: Partial<Plant> = {}): Plant {
  return {
    id,
    at,
    name: 'A',
    plantClass: 'shrub',
    canopyNowM: null,
    canopyMatureM: 0.5,
    rootBallM: null,
    waterUse: 'low',
    ...more,
  };
}

/** The valve, 60 psi, made for 0.05 to 15 gpm. */
export function valve(more: Partial<Supply> = {}): Supply {
  return supply('V', [0, 0], {
    pressureKpa: 60 * PSI_KPA,
    minFlowLph: 0.05 * GPM,
    maxFlowLph: 15 * GPM,
    ...more,
  });
}

export function pipe(from: string, to: string, more: Partial<LateralPipe> = {}): LateralPipe {
  return lateral(from, to, [0, 0], [5, 5], more);
}

/** A bed of 10 x 10 m under two heads of 0.5 gpm (2.3 mm/h) on a soil that takes 20 mm/h. */
export function calmPlan(more: Partial<Plan> = {}): Plan {
  const empty = emptyPlan();
  return {
    ...empty,
    areas: Table.of([area('B', 'bed', box(0, 0, 10, 10)), area('P', 'paving', box(0, -5, 10, 4))]),
    heads: Table.of([head('1', [3, 5]), head('2', [7, 5])]),
    supplies: Table.of([valve()]),
    laterals: Table.of([pipe('V', '1')]),
    plants: Table.of([plant('a', [1, 1]), plant('b', [9, 9])]),
    soil: { ...empty.soil, texture: 'sandy loam', intakeMmPerH: 20 },
    ...more,
  };
}

export function reasonsOf(plan: Plan, rule: VerdictRule): readonly Reason[] {
  return verdictOf(plan, 'us').reasons.filter((reason) => reason.rule === rule);
}

/** The one reason that a rule gives. */
export function only(plan: Plan, rule: VerdictRule): Reason {
  const found = reasonsOf(plan, rule);
  if (found.length !== 1) throw new Error(`${rule} gives ${found.length} reasons: ${JSON.stringify(found)}`);
  return found[0]!;
}
