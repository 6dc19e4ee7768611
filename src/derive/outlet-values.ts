import { headToKpa, m3sToLph, type Solution } from '../hydraulics/index.ts';
import type { OutletResult, OutletState, PlacedOutlet, PlanNetwork } from './results.ts';
import { isAbove, isBelow } from './wording.ts';

/** What a solution says of outlets as columns, in the network's order: one walk, and nothing is made for each. */
export interface OutletValues {
  /** Pressure at the outlet, kPa; NaN when apart. */
  readonly pressureKpa: Float64Array;
  readonly flowLph: Float64Array;
  /** Places in `OUTLET_STATES`. */
  readonly states: Uint8Array;
}

export const OUTLET_STATES: readonly OutletState[] = ['good', 'low', 'high', 'dry', 'apart'];
const PLACE = { good: 0, low: 1, high: 2, dry: 3, apart: 4 } as const satisfies Record<OutletState, number>;

/** Pressures, flows and states of all outlets of a plan. */
export function outletValues({ network, outlets }: PlanNetwork, solution: Solution): OutletValues {
  const { node, riseM } = network.outlets;
  const { elevationM } = network.nodes;
  const count = outlets.length;
  const values = {
    pressureKpa: new Float64Array(count),
    flowLph: new Float64Array(count),
    states: new Uint8Array(count),
  };
  for (let i = 0; i < count; i++) {
    const at = node[i]!;
    const pressureKpa = headToKpa(solution.headM[at]! - elevationM[at]! - riseM[i]!);
    values.pressureKpa[i] = pressureKpa;
    values.flowLph[i] = m3sToLph(solution.outletM3s[i]!);
    values.states[i] = stateOf(outlets[i]!, pressureKpa);
  }
  return values;
}

function stateOf({ minKpa, maxKpa }: PlacedOutlet, pressureKpa: number): number {
  if (Number.isNaN(pressureKpa)) return PLACE.apart;
  if (pressureKpa <= 0) return PLACE.dry;
  if (isBelow(pressureKpa, minKpa)) return PLACE.low;
  return isAbove(pressureKpa, maxKpa) ? PLACE.high : PLACE.good;
}

/** An outlet with what the values say of it. */
export function withValue(placed: PlacedOutlet, values: OutletValues, index: number): OutletResult {
  // Written out: copying by spread is ten times slower, and there may be thousands.
  return {
    owner: placed.owner,
    runId: placed.runId,
    number: placed.number,
    at: placed.at,
    zM: placed.zM,
    plantId: placed.plantId,
    ratedFlowLph: placed.ratedFlowLph,
    minKpa: placed.minKpa,
    maxKpa: placed.maxKpa,
    compensating: placed.compensating,
    cv: placed.cv,
    closingKpa: placed.closingKpa,
    tap: placed.tap,
    feederM: placed.feederM,
    alsoPlantIds: placed.alsoPlantIds,
    onRun: placed.onRun,
    fromEmitterId: placed.fromEmitterId,
    pressureKpa: values.pressureKpa[index]!,
    flowLph: values.flowLph[index]!,
    state: OUTLET_STATES[values.states[index]!]!,
  };
}
