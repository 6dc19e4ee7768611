import { memo } from '../../base/memo.ts';
import type { Plan } from '../../plan/records.ts';
import { called } from '../network/notices.ts';
import { agree, counted, listed } from '../wording.ts';
import type { Rule } from './check.ts';
import { headsOnDripValve, pipesAt } from './heads-on-drip-valve.ts';

const SOURCE =
  'Municipal Water District of Orange County, spray-to-drip rebate: all unused heads removed or capped, no exception';

const undecidedOf = memo(
  (
    heads: Plan['heads'],
    laterals: Plan['laterals'],
    supplies: Plan['supplies'],
    planNetwork: Parameters<typeof headsOnDripValve>[1],
  ) => {
    const shared = new Set(headsOnDripValve({ heads, laterals, supplies }, planNetwork));
    // With one valve a head of which neither zone nor pipe is known can only be on that one.
    const isOnlyOne = supplies.size === 1 && planNetwork.outlets.length > 0;
    return [...heads].filter(
      (head) =>
        head.fate === 'undecided' &&
        (shared.has(head) || (isOnlyOne && head.zone === null && pipesAt(head, laterals).length === 0)),
    );
  },
);

/** Spray heads on the drip's valve of which nothing is decided would go on spraying, or leak. */
export const unusedHeads: Rule = {
  number: 36,
  title: 'Unused heads capped or cut off',
  says: ['spray-heads-undecided'],
  severity: 'error',
  limits: [],
  source: SOURCE,
  check: ({ plan, planNetwork }) => {
    const { heads, laterals, supplies } = plan;
    const open = undecidedOf(heads, laterals, supplies, planNetwork);
    if (open.length === 0) return [];
    const todo =
      open.length === 1 ? 'cap it, cut it off or make it the tie-in' : 'cap, cut off or make one the tie-in';
    const ids = open.map(({ id }) => id);
    return [
      {
        rule: 'spray-heads-undecided',
        severity: 'error',
        message: `${counted(open.length, 'spray head')} on the drip's valve (${listed(open.map((head) => called(head)))}) ${agree(open.length, 'is', 'are')} undecided: ${todo}. A head that is neither removed, capped nor cut goes on spraying.`,
        refs: ids.map((id) => ({ table: 'heads', id }) as const),
        source: SOURCE,
        fix: {
          label: open.length === 1 ? 'Cap it' : 'Cap them all',
          changes: [{ kind: 'set', table: 'heads', ids, fields: { fate: 'cap' } }],
        },
      },
    ];
  },
};
