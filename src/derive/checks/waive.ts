import { bad, good, type Result } from '../../base/result.ts';
import type { Edit } from '../../plan/edits/index.ts';
import type { Plan, Waiver } from '../../plan/records.ts';
import type { Notice } from '../results.ts';

/** What a person says to accept a finding as it is. */
export interface Acceptance {
  readonly reason: string;
  readonly by: string;
  /** For all that the rule finds, now and later, and not for the records of this finding alone. */
  readonly everywhere: boolean;
}

/** A finding that names no record can be accepted wherever its rule speaks, and no other way. */
export function isEverywhereOnly(notice: Notice): boolean {
  return notice.refs.length === 0;
}

/**
 * The waiver that accepts a finding. Fails without a reason, and for an error without the name of who answers for it.
 */
export function waiverFor(notice: Notice, { reason, by, everywhere }: Acceptance): Result<Waiver> {
  const [why, who] = [reason.trim(), by.trim()];
  if (why === '') return bad('reason', 'No reason is typed', 'Say why this is right here.');
  if (who === '' && notice.severity === 'error')
    return bad('by', 'Nobody answers for this error yet', 'Type the name of who decides so.');
  return good({
    rule: notice.rule,
    refs: everywhere ? [] : notice.refs,
    reason: why,
    by: who,
  });
}

/** Adds a waiver to the plan, as one step of history. */
export function acceptEdit(waiver: Waiver): Edit {
  return { label: 'Accept a finding', apply: (plan) => withList(plan, [...plan.checks.waivers, waiver]) };
}

/** Takes a waiver back, as one step of history; one that is gone by then changes nothing. */
export function takeBackEdit(waiver: Waiver): Edit {
  return {
    label: 'Take back an accepted finding',
    apply: (plan) =>
      plan.checks.waivers.includes(waiver)
        ? withList(
            plan,
            plan.checks.waivers.filter((other) => other !== waiver),
          )
        : plan,
  };
}

function withList(plan: Plan, waivers: readonly Waiver[]): Plan {
  return { ...plan, checks: { ...plan.checks, waivers } };
}
