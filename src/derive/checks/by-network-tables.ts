import type { Plan } from '../../plan/records.ts';

/** The tables and parts of a plan from which its network is built. */
const READ = [
  'levels',
  'falls',
  'supplies',
  'laterals',
  'controls',
  'runs',
  'emitters',
  'water',
  'checkValves',
  'flushEnds',
] as const satisfies readonly (keyof Plan)[];

/**
 * Remembers the last answer of what takes its time, for as long as the plan's network stays the same. It follows the
 * plan that is kept: what is only dragged is another plan's network, for which nothing is computed here.
 * Limits that it goes by are given beside the plan; another one is another question.
 */
export function byNetworkTables<R, L extends readonly number[] = []>(
  compute: (plan: Plan, ...limits: L) => R,
): (plan: Plan, ...limits: L) => R {
  let last: { readonly plan: Plan; readonly limits: L; readonly answer: R } | null = null;
  return (plan, ...limits) => {
    const before = last;
    if (
      before &&
      READ.every((part) => before.plan[part] === plan[part]) &&
      limits.every((limit, i) => before.limits[i] === limit)
    ) {
      return before.answer;
    }
    const answer = compute(plan, ...limits);
    last = { plan, limits, answer };
    return answer;
  };
}
