import { called } from '../network/notices.ts';
import { UnionFind } from '../network/union-find.ts';
import type { Notice, PlacedSupply } from '../results.ts';
import type { Check, Rule } from './check.ts';

/** Valves run one after the other, so nets of two valves must not meet: the sums take both as open. */
export const joinedSupplies: Check = ({ plan, planNetwork }) => {
  const { network, parts } = planNetwork;
  if (parts.supplies.length < 2) return [];
  const groups = new UnionFind(network.nodes.count);
  for (let link = 0; link < network.links.count; link++) {
    groups.join(network.links.from[link]!, network.links.to[link]!);
  }
  const byGroup = new Map<number, PlacedSupply[]>();
  for (const supply of parts.supplies) {
    const group = groups.root(supply.node);
    byGroup.set(group, [...(byGroup.get(group) ?? []), supply]);
  }
  return [...byGroup.values()]
    .filter((supplies) => supplies.length > 1)
    .map((supplies): Notice => {
      const names = supplies.map(({ id }) => called(plan.supplies.get(id) ?? { id }));
      return {
        rule: 'supplies-joined',
        severity: 'warning',
        message: `The pipes of supplies ${names.join(', ')} are joined, and the figures take all of their valves as open at once: part them, or keep one supply.`,
        refs: supplies.map(({ id }) => ({ table: 'supplies', id }) as const),
        source: 'common practice: one valve, one zone',
      };
    });
};

export const joinedSuppliesRule: Rule = {
  number: null,
  title: 'One valve for each net of pipes',
  says: ['supplies-joined'],
  severity: 'warning',
  limits: [],
  source: 'common practice: one valve, one zone',
  check: joinedSupplies,
};
