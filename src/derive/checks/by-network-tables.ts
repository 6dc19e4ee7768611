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
 */
export function byNetworkTables<R>(compute: (plan: Plan) => R): (plan: Plan) => R {
  let last: { readonly plan: Plan; readonly answer: R } | null = null;
  return (plan) => {
    const before = last;
    if (before && READ.every((part) => before.plan[part] === plan[part])) return before.answer;
    const answer = compute(plan);
    last = { plan, answer };
    return answer;
  };
}
