import { curveLoss, headLoss, headToKpa, lphToM3s, viscosity } from '../../../hydraulics/index.ts';
import type { Plan, Supply } from '../../../plan/records.ts';
import { supplyCurve } from '../../network/supply-curve.ts';
import type { PipeGraph } from './graph.ts';

/** What is left of the pressure of a zone's valve along the old pipes, with the drip's flow. */
export interface PipePressure {
  readonly flowLph: number;
  /** At the valve with that flow; `null` where no static pressure is known. */
  readonly atValveKpa: number | null;
  /** Friction of pipes that carry a share of the flow, kPa (Darcy and Weisbach). */
  lossKpa(edge: number, share: number): number;
  /** Speed of the water in a pipe that carries a share of the flow, m/s: flow over the area of the bore. */
  velocityMs(edge: number, share: number): number;
  /** Pressure lost to the height of a node above the valve, kPa; negative below it. */
  liftKpa(node: number): number;
}

/**
 * @param flowLph flow of the drip to reckon with, L/h
 * Pressure at the valve: its own static pressure, else the service's, the lowest reading where there is one, less the
 * fall at that flow by the measured working points (`supplyCurve`).
 */
export function pipePressure(
  graph: PipeGraph,
  water: Plan['water'],
  supply: Supply | undefined,
  flowLph: number,
): PipePressure {
  const flowM3s = lphToM3s(flowLph);
  const viscosityM2s = viscosity(water.waterC ?? NaN);
  const known = new Map<number, number[]>();
  const sourceZM = graph.source === null ? 0 : graph.nodes[graph.source]!.zM;
  return {
    flowLph,
    atValveKpa: valveKpa(water, supply, flowM3s),
    lossKpa(edge, share) {
      const losses = known.get(share) ?? [];
      known.set(share, losses);
      return (losses[edge] ??= headToKpa(headLoss(graph.edges[edge]!, flowM3s * share, viscosityM2s)));
    },
    velocityMs: (edge, share) => (flowM3s * share) / ((Math.PI / 4) * graph.edges[edge]!.boreM ** 2),
    liftKpa: (node) => headToKpa(graph.nodes[node]!.zM - sourceZM),
  };
}

function valveKpa(water: Plan['water'], supply: Supply | undefined, flowM3s: number): number | null {
  const own = supply?.pressureKpa ?? null;
  const staticKpa = own ?? water.lowStaticKpa ?? water.staticKpa;
  if (staticKpa === null) return null;
  const { curve } = supplyCurve(water.staticKpa ?? staticKpa, water.workingPoints);
  return staticKpa - (curve ? headToKpa(curveLoss(curve, flowM3s)) : 0);
}
