import { memo } from '../../base/memo.ts';
import { formatQuantity } from '../../base/quantity.ts';
import { FOOT_M } from '../../base/units.ts';
import { headToKpa } from '../../hydraulics/index.ts';
import type { Ref } from '../../plan/records.ts';
import type { PlanNetwork } from '../results.ts';
import { isAbove, twoFigures } from '../wording.ts';
import type { Limit, Rule } from './check.ts';
import { dripGroups, groupName, type DripGroup } from './drip-groups.ts';
import { withLaws } from './live-fills.ts';

const SOURCE =
  'US EPA WaterSense, Microirrigation optional-measure sheet: compensating emitters where heights differ much; 5 ft (2.2 psi): common practice';

const HEIGHT: Limit = {
  key: 'plain-emitters-levels.height',
  label: 'Difference of height among plain emitters',
  kind: 'length',
  usual: 5 * FOOT_M,
  least: 0.1,
  most: 30,
  source: SOURCE,
};

interface Spread {
  readonly group: DripGroup;
  readonly owners: readonly Ref<'runs' | 'emitters'>[];
  readonly heightM: number;
}

/** Groups in which plain emitters stand at heights that differ, with the emitters concerned. */
const spreads = memo((planNetwork: PlanNetwork): Spread[] =>
  dripGroups(planNetwork).flatMap((group) => {
    const plain = group.outlets
      .map((i) => planNetwork.outlets[i]!)
      .filter(({ compensating }) => !compensating);
    if (plain.length < 2) return [];
    let [low, high] = [Infinity, -Infinity];
    const owners = new Map<string, Ref<'runs' | 'emitters'>>();
    for (const { zM, owner } of plain) {
      low = Math.min(low, zM);
      high = Math.max(high, zM);
      owners.set(`${owner.table}/${owner.id}`, owner);
    }
    return [{ group, owners: [...owners.values()], heightM: high - low }];
  }),
);

export const plainEmittersLevels: Rule = {
  number: 23,
  title: 'Compensating emitters where heights differ',
  says: ['plain-emitters-levels'],
  severity: 'warning',
  limits: [HEIGHT],
  source: SOURCE,
  check: ({ plan, planNetwork, units, limit }) =>
    spreads(planNetwork)
      .filter(({ heightM }) => isAbove(heightM, limit(HEIGHT)))
      .map(({ group, owners, heightM }) => {
        const [differ, most] = twoFigures('length', heightM, limit(HEIGHT), units);
        const fix = withLaws(plan, owners, COMPENSATING, 'Use compensating emitters');
        return {
          rule: 'plain-emitters-levels',
          severity: 'warning',
          message: `Emitters behind ${groupName(plan, group)} that do not compensate differ in height by ${differ}, more than ${most}: the lowest have ${formatQuantity('pressure', headToKpa(heightM), units)} more than the highest and give more. Use compensating emitters, or part the slope into bands with a regulator each.`,
          refs: [...group.feeds, ...owners],
          source: SOURCE,
          ...(fix ? { fix } : {}),
        };
      }),
};

const COMPENSATING = { inline: 'inline-pc', point: 'point-pc' } as const;
