import type { Plan } from '../../plan/records.ts';
import type { Notice, Results } from '../results.ts';
import type { Rule } from './check.ts';
import { missingFor } from './needs.ts';
import { RULES } from './rules.ts';

/** How a plan stands before one rule. */
export type RuleState =
  | { readonly kind: 'speaks'; readonly count: number; readonly worst: Notice['severity'] }
  | { readonly kind: 'accepted'; readonly count: number }
  | { readonly kind: 'in order' }
  | { readonly kind: 'not told'; readonly missing: string };

const RANK = { error: 0, warning: 1, info: 2 } as const;

/**
 * Findings with the worst first; of one severity in the order in which their rules are given, and of one rule the one
 * that is about more first.
 */
export function worstFirst(notices: readonly Notice[]): Notice[] {
  const order = new Map<string, number>();
  for (const { rule } of notices) if (!order.has(rule)) order.set(rule, order.size);
  return notices.toSorted(
    (a, b) =>
      RANK[a.severity] - RANK[b.severity] ||
      order.get(a.rule)! - order.get(b.rule)! ||
      b.refs.length - a.refs.length,
  );
}

/** How many findings are open by severity, and how many are accepted as they are. */
export function countFindings(
  notices: readonly Notice[],
): Readonly<Record<Notice['severity'] | 'accepted', number>> {
  const counts = { error: 0, warning: 0, info: 0, accepted: 0 };
  for (const { severity, waived } of notices) counts[waived ? 'accepted' : severity]++;
  return counts;
}

/** All rules with how the plan stands before each: what is open goes before what is accepted. */
export function ruleStates(
  plan: Plan,
  results: Pick<Results, 'outletCount' | 'supplies'>,
  notices: readonly Notice[],
): { readonly rule: Rule; readonly state: RuleState }[] {
  const bySays = new Map<string, Notice[]>();
  for (const notice of notices) {
    const own = bySays.get(notice.rule);
    if (own) own.push(notice);
    else bySays.set(notice.rule, [notice]);
  }
  return RULES.map((rule) => {
    const own = rule.says.flatMap((says) => bySays.get(says) ?? []);
    return { rule, state: stateOf(rule, own, plan, results) };
  });
}

function stateOf(
  rule: Rule,
  own: readonly Notice[],
  plan: Plan,
  results: Pick<Results, 'outletCount' | 'supplies'>,
): RuleState {
  const open = own.filter(({ waived }) => !waived);
  if (open.length > 0) return { kind: 'speaks', count: open.length, worst: worstFirst(open)[0]!.severity };
  if (own.length > 0) return { kind: 'accepted', count: own.length };
  const missing = missingFor(rule, plan, results);
  return missing === null ? { kind: 'in order' } : { kind: 'not told', missing };
}
