import { formatQuantity } from '../../base/quantity.ts';
import { groundOf } from '../ground/index.ts';
import type { Notice } from '../results.ts';
import { agree, listed } from '../wording.ts';
import { limitOf, type CheckInput, type Limit, type Rule } from './check.ts';

/** Misclosure from which a fall is to be measured again, metres (common practice with a hand level or water level). */
const CLOSES_WITHIN_M = 0.02;
const SOURCE = 'common practice: falls measured with a hand level or water level close within 2 cm';
const CLOSES: Limit = {
  key: 'fall-closure.most',
  label: 'Misclosure of measured falls',
  kind: 'spacing',
  usual: CLOSES_WITHIN_M,
  least: 0.001,
  most: 1,
  source: SOURCE,
};
/** Most rings that are told one by one. */
const MOST = 5;

/** Falls that run in a ring, or from level to level, must come out; the worst are told first. */
export function fallClosure({ plan, units }: Pick<CheckInput, 'plan' | 'units'>): Notice[] {
  const closesWithinM = limitOf(plan)(CLOSES);
  const open = groundOf(plan)
    .linked.closures.filter(({ misclosureM }) => misclosureM > closesWithinM + 1e-9)
    .toSorted((a, b) => b.misclosureM - a.misclosureM);
  return open.slice(0, MOST).map(({ falls, betweenLevels, misclosureM }, i): Notice => {
    const them = agree(falls.length, 'it', 'them');
    const ends = betweenLevels ? 'with the levels at the ends' : 'on the way round';
    const until =
      betweenLevels && falls.length === 1 ? 'the levels count' : 'the difference is shared out by length';
    const more = i === MOST - 1 && open.length > MOST ? ` ${open.length - MOST} more like this.` : '';
    return {
      rule: 'fall-closure',
      severity: 'warning',
      message: `${namedFalls(falls)} ${agree(falls.length, 'does', 'do')} not come out ${ends}: ${formatQuantity('spacing', misclosureM, units)} off. Measure ${them} again; until then ${until}.${more}`,
      refs: falls.map((id) => ({ table: 'falls', id }) as const),
      source: SOURCE,
    };
  });
}

/** Falls by their ids, at the head of a sentence. */
export function namedFalls(falls: readonly string[]): string {
  return `${agree(falls.length, 'Fall', 'Falls')} ${listed(falls)}`;
}

export const fallClosureRule: Rule = {
  number: null,
  title: 'Measured falls that come out',
  says: ['fall-closure'],
  severity: 'warning',
  limits: [CLOSES],
  source: SOURCE,
  check: fallClosure,
};
