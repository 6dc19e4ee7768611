import { headLoss, headToKpa, lphToM3s, viscosity } from '../../../hydraulics/index.ts';
import type { Plan, Supply } from '../../../plan/records.ts';
import { pressureBehindValve } from '../../network/supply-chain.ts';
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
 * Pressure behind the valve as the network has it (`pressureBehindValve`), from its own static pressure, else the
 * service's, the lowest reading where there is one.
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
    atValveKpa: supply ? pressureBehindValve(water, supply, staticToBegin(water, supply), flowLph) : null,
    lossKpa(edge, share) {
      const losses = known.get(share) ?? [];
      known.set(share, losses);
      return (losses[edge] ??= headToKpa(headLoss(graph.edges[edge]!, flowM3s * share, viscosityM2s)));
    },
    velocityMs: (edge, share) => (flowM3s * share) / ((Math.PI / 4) * graph.edges[edge]!.boreM ** 2),
    liftKpa: (node) => headToKpa(graph.nodes[node]!.zM - sourceZM),
  };
}

/** The static pressure to design from, kPa: a valve's own, else the lowest reading, else the usual one. */
export function staticToBegin(water: Plan['water'], supply: Supply | null): number | null {
  return supply?.pressureKpa ?? water.lowStaticKpa ?? water.staticKpa;
}
