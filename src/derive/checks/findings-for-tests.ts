import { solve } from '../../hydraulics/index.ts';
import type { Plan } from '../../plan/records.ts';
import { buildPlanNetwork } from '../network/index.ts';
import { readResults } from '../read-results.ts';
import type { Notice } from '../results.ts';
import { fixEdit } from './fix.ts';
import { checkPlan } from './index.ts';
import { ruleOf } from './rules.ts';

const RANK = { info: 0, warning: 1, error: 2 } as const;

/** What one rule finds on a plan. Throws where any notice is not one that a rule says it gives, as it says it. */
export function findings(plan: Plan, rule: string): Notice[] {
  const planNetwork = buildPlanNetwork(plan);
  const all = checkPlan(plan, planNetwork, readResults(planNetwork, solve(planNetwork.network)), 'us');
  for (const notice of all) {
    const says = ruleOf(notice.rule);
    const fault = !says
      ? 'is said by no rule'
      : RANK[notice.severity] > RANK[says.severity]
        ? `is worse than its rule's ${says.severity}`
        : !notice.source
          ? 'has no source'
          : /NaN|undefined|Infinity/.test(notice.message)
            ? 'has a figure that is none'
            : null;
    if (fault) throw new Error(`${notice.rule} ${fault}: ${notice.severity}, ${notice.message}`);
  }
  return all.filter((notice) => notice.rule === rule);
}

/** The plan with other limits. */
export function limited(plan: Plan, limits: Readonly<Record<string, number>>): Plan {
  return { ...plan, checks: { ...plan.checks, limits } };
}

/** The plan after the fix of what a rule finds first; throws where there is none. */
export function fixed(plan: Plan, rule: string): Plan {
  const fix = findings(plan, rule)[0]?.fix;
  if (!fix) throw new Error(`no fix of ${rule}`);
  return fixEdit(fix).apply(plan);
}
