import type { UnitSystem } from '../base/quantity.ts';
import { solve } from '../hydraulics/index.ts';
import type { Plan } from '../plan/records.ts';
import { checkPlan } from './checks/index.ts';
import { withWaivers } from './checks/waivers.ts';
import { existingOf, type Existing } from './existing/index.ts';
import { underLaw, type FrictionLaw } from './network/friction-law.ts';
import { buildPlanNetwork } from './network/index.ts';
import { readResults } from './read-results.ts';
import { acceptanceOf, type Acceptance } from './limits/acceptance.ts';
import { drainDown, type DrainDown } from './scenarios/drain-down.ts';
import { flushGroups, readFlushing, type FlushedEnd } from './scenarios/flushing.ts';
import { networkFor } from './scenarios/network-for.ts';
import type { Scenario } from './scenarios/scenario.ts';
import { staticOf, type StaticPressures } from './scenarios/static-pressures.ts';
import { situationNotices } from './scenarios/scenario-notices.ts';
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
    notices: [
      ...withWaivers(plan, results.notices),
      ...checkPlan(plan, planNetwork, results, units),
      ...situationNotices(plan, units),
    ],
  };
}

/** What is asked for on demand: a state of the system, and what follows from the layout besides its pressures. */
export interface StudyDetails {
  readonly scenario: Scenario;
  readonly friction: FrictionLaw;
  /** In that state, by that law of friction. */
  readonly results: Results;
  /** By all published ways to judge the uniformity in that state. */
  readonly acceptance: readonly Acceptance[];
  readonly standing: StaticPressures;
  /** With all check valves that are drawn, and without any. */
  readonly drain: DrainDown;
  readonly drainWithoutChecks: DrainDown;
  /** In the state `flushing`: the open ends. */
  readonly flushed: readonly FlushedEnd[];
  /** Flush ends to be opened together, group by group. */
  readonly flushGroups: readonly (readonly string[])[];
}

/** Solves a plan in a state and gathers the figures that go with it. */
export function detailsOf(
  plan: Plan,
  scenario: Scenario,
  friction: FrictionLaw = 'darcy-weisbach',
): StudyDetails {
  const network = underLaw(networkFor(plan, scenario), friction);
  const solution = solve(network.network);
  const results = readResults(network, solution);
  return {
    scenario,
    friction,
    results,
    acceptance: acceptanceOf(results),
    standing: staticOf(plan.controls, buildPlanNetwork(plan)),
    drain: drainDown(plan),
    drainWithoutChecks: drainDown(plan, { checks: false }),
    flushed: readFlushing(network, solution),
    flushGroups: flushGroups(plan),
  };
}
