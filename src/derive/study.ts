import type { UnitSystem } from '../base/quantity.ts';
import { solve } from '../hydraulics/index.ts';
import type { Plan } from '../plan/records.ts';
import { checkPlan } from './checks/index.ts';
import { existingOf, type Existing } from './existing/index.ts';
import { buildPlanNetwork } from './network/index.ts';
import { readResults } from './read-results.ts';
import type { Notice, Results } from './results.ts';

/** Everything that is computed from one plan. */
export interface Study {
  readonly existing: Existing;
  readonly results: Results;
  /** All that the person should see: from building the network, from the solver and from the checks. */
  readonly notices: readonly Notice[];
}

/**
 * Computes the whole study of a plan in one go.
 * @param units system in which notices show their figures
 */
export function studyOf(plan: Plan, units: UnitSystem = 'us'): Study {
  const planNetwork = buildPlanNetwork(plan);
  const results = readResults(planNetwork, solve(planNetwork.network));
  return {
    existing: existingOf(plan),
    results,
    notices: [...results.notices, ...checkPlan(plan, planNetwork, results, units)],
  };
}
