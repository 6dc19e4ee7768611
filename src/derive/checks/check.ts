import type { UnitSystem } from '../../base/quantity.ts';
import type { Plan } from '../../plan/records.ts';
import type { Notice, PlanNetwork, Results } from '../results.ts';

/** All that a rule may look at. The plan may be newer than the network and the results. */
export interface CheckInput {
  readonly plan: Plan;
  readonly planNetwork: PlanNetwork;
  readonly results: Results;
  readonly units: UnitSystem;
}

/** One rule: what it finds, nothing where all is well. */
export type Check = (input: CheckInput) => Notice[];
