import type { UnitSystem } from '../../base/quantity.ts';
import type { Plan } from '../../plan/records.ts';
import type { Notice, PlanNetwork, Results } from '../results.ts';
import { shownSource } from '../wording.ts';
import { limitOf, type CheckInput, type Rule } from './check.ts';
import { RULES } from './rules.ts';
import { withWaivers } from './waivers.ts';

export { LIMITS, ruleOf, RULES } from './rules.ts';
export { limitOf, type Limit, type Rule } from './check.ts';
export { fixEdit } from './fix.ts';
export { changedLimits, limitEdit, unknownLimits, USUAL_LIMITS, type ChangedLimit } from './limit-edits.ts';
export { countFindings, ruleStates, worstFirst, type RuleState } from './rule-states.ts';
export { acceptEdit, isEverywhereOnly, takeBackEdit, waiverFor } from './waive.ts';
export { rewaived, waiverFinder } from './waivers.ts';

/**
 * Holds a plan and its results against the rules of the trade. What the plan accepts as it is (`plan.checks.waivers`)
 * is among the findings, with `waived`.
 * @param plan the plan as it is now; may be newer than the results
 * @param units system in which figures are shown
 */
export function checkPlan(
  plan: Plan,
  planNetwork: PlanNetwork,
  results: Results,
  units: UnitSystem,
): Notice[] {
  const input = { plan, planNetwork, results, units, limit: limitOf(plan) };
  return withWaivers(
    plan,
    RULES.flatMap((rule) => findingsOf(rule, input)),
  );
}

/** What one rule finds, each with its source. */
export function findingsOf(rule: Rule, input: CheckInput): Notice[] {
  return rule
    .check(input)
    .map((notice) => ({ ...notice, source: shownSource(notice.source ?? rule.source) }));
}
