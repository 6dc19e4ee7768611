import { formatQuantity, type UnitSystem } from '../../base/quantity.ts';
import { FALL_TOLERANCE_M } from '../../plan/joining.ts';
import type { Plan } from '../../plan/records.ts';
import { groundOf } from '../ground/index.ts';
import type { Notice } from '../results.ts';
import { agree } from '../wording.ts';
import type { CheckInput, Rule } from './check.ts';
import { fallClosure, namedFalls } from './fall-closure.ts';

/** Falls that hang in the air, and those that say nothing. */
export function fallsApart({ plan, units }: Pick<CheckInput, 'plan' | 'units'>): Notice[] {
  const { laidOn, leftOut } = groundOf(plan).linked;
  const apart = laidOn.flatMap(({ falls }) => falls);
  const near = formatQuantity('spacing', FALL_TOLERANCE_M, units);
  const refs = (falls: readonly string[]) => falls.map((id) => ({ table: 'falls', id }) as const);
  const notices: Notice[] = [];
  if (apart.length > 0) {
    const stand = agree(apart.length, 'stands', 'stand');
    const laid = agree(apart.length, 'it is', 'they are');
    notices.push({
      rule: 'falls-apart',
      severity: 'info',
      message: `${namedFalls(apart)} ${stand} apart from the levels and from the other falls: ${laid} laid on the ground that those make. Set a level within ${near} of an end, or join the ends of falls.`,
      refs: refs(apart),
    });
  }
  if (leftOut.length > 0) {
    const have = agree(leftOut.length, 'has', 'have');
    const are = agree(leftOut.length, 'is', 'are');
    notices.push({
      rule: 'fall-without-length',
      severity: 'warning',
      message: `${namedFalls(leftOut)} ${have} both ends at one place, within ${near}, and ${are} left out of the ground. Drag one end away, or delete ${agree(leftOut.length, 'it', 'them')}.`,
      refs: refs(leftOut),
    });
  }
  return notices;
}

/** What is to be said of the ground while it is surveyed. */
export function groundNotices(plan: Plan, units: UnitSystem): Notice[] {
  return [...fallClosure({ plan, units }), ...fallsApart({ plan, units })];
}

export const fallsApartRule: Rule = {
  number: null,
  title: 'Measured falls that hang together',
  says: ['falls-apart', 'fall-without-length'],
  severity: 'warning',
  limits: [],
  source: 'common practice',
  check: fallsApart,
};
