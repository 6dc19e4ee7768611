import { refKey, type Plan, type Waiver } from '../../plan/records.ts';
import type { Notice } from '../results.ts';

/** Marks what the plan accepts as it is: the finding keeps its text and severity, and gets the reason and the name. */
export function withWaivers(plan: Pick<Plan, 'checks'>, notices: readonly Notice[]): Notice[] {
  const { waivers } = plan.checks;
  if (waivers.length === 0) return [...notices];
  const waiverOf = waiverFinder(waivers);
  return notices.map((notice) => {
    const found = waiverOf(notice);
    if (!found) return notice;
    const { reason, by } = found;
    return { ...notice, waived: { reason, by } };
  });
}

/**
 * Findings as a plan has them that differs in its waivers only: those taken back are open again, new ones hold at once.
 */
export function rewaived(plan: Pick<Plan, 'checks'>, notices: readonly Notice[]): readonly Notice[] {
  const bare = notices.some(({ waived }) => waived) ? notices.map(withoutWaiver) : notices;
  return plan.checks.waivers.length === 0 ? bare : withWaivers(plan, bare);
}

function withoutWaiver(notice: Notice): Notice {
  const { waived, ...bare } = notice;
  return waived ? bare : notice;
}

/** Looks up the waiver under which a finding is accepted: the first of the list that covers it. */
export function waiverFinder(waivers: readonly Waiver[]): (notice: Notice) => Waiver | undefined {
  const sets = waivers.map((waiver) => ({ waiver, keys: new Set(waiver.refs.map(refKey)) }));
  return (notice) => sets.find(({ waiver, keys }) => covers(waiver, keys, notice))?.waiver;
}

/** A waiver for certain records never covers a finding that names others too, nor one that names none. */
function covers({ rule, refs }: Waiver, keys: ReadonlySet<string>, notice: Notice): boolean {
  if (rule !== notice.rule) return false;
  if (refs.length === 0) return true;
  return notice.refs.length > 0 && notice.refs.every((ref) => keys.has(refKey(ref)));
}
