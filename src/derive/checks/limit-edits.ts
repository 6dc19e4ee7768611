import type { Edit } from '../../plan/edits/index.ts';
import type { Plan } from '../../plan/records.ts';
import type { Limit, Rule } from './check.ts';
import { RULES } from './rules.ts';

/** A limit of which the plan has a figure of its own. */
export interface ChangedLimit {
  readonly rule: Rule;
  readonly limit: Limit;
  readonly value: number;
  /** The figure lies beyond what the limit may be, as only a file can bring it. */
  readonly isOutside: boolean;
}

/** Sets a limit of the plan, in its inside unit; null, or the usual figure, gives it back to what is usual. */
export function limitEdit({ key, label, usual }: Limit, value: number | null): Edit {
  return {
    label: `Limit: ${label}`,
    apply: (plan) => {
      const limits = { ...plan.checks.limits };
      delete limits[key];
      return withLimits(plan, value === null || isUsual(value, usual) ? limits : { ...limits, [key]: value });
    },
  };
}

/** What is typed in another unit comes back by rounding. */
function isUsual(value: number, usual: number): boolean {
  return Math.abs(value - usual) <= 1e-9 * Math.abs(usual);
}

/** Gives all limits back to what is usual. */
export const USUAL_LIMITS: Edit = { label: 'All limits as usual', apply: (plan) => withLimits(plan, {}) };

function withLimits(plan: Plan, limits: Plan['checks']['limits']): Plan {
  return { ...plan, checks: { ...plan.checks, limits } };
}

/** The limits that differ from the usual ones, in the order of the rules. */
export function changedLimits(plan: Pick<Plan, 'checks'>): ChangedLimit[] {
  const { limits } = plan.checks;
  return RULES.flatMap((rule) =>
    rule.limits.flatMap((limit): ChangedLimit[] => {
      if (!Object.hasOwn(limits, limit.key)) return [];
      const value = limits[limit.key]!;
      if (isUsual(value, limit.usual)) return [];
      return [{ rule, limit, value, isOutside: !(value >= limit.least && value <= limit.most) }];
    }),
  );
}

/** Keys of limits in the plan that no rule knows. */
export function unknownLimits(plan: Pick<Plan, 'checks'>): string[] {
  const known = new Set(RULES.flatMap(({ limits }) => limits.map(({ key }) => key)));
  return Object.keys(plan.checks.limits).filter((key) => !known.has(key));
}
