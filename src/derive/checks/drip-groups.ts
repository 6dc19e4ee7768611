import { memo } from '../../base/memo.ts';
import type { Plan, Ref } from '../../plan/records.ts';
import { called } from '../network/notices.ts';
import { UnionFind } from '../network/union-find.ts';
import type { PlanNetwork } from '../results.ts';

/** Tubing in one piece behind a control set, or behind a valve, with the outlets on it. */
export interface DripGroup {
  /** The control sets and supplies that feed it. */
  readonly feeds: readonly Ref<'controls' | 'supplies'>[];
  /** Indices of its outlets. */
  readonly outlets: readonly number[];
}

/** Groups of outlets between which no control set stands; those without any outlet are left out. */
export const dripGroups = memo((planNetwork: PlanNetwork): readonly DripGroup[] => {
  const { network, pieces, parts, outlets } = planNetwork;
  const joined = new UnionFind(network.nodes.count);
  pieces.forEach(({ owner }, link) => {
    if (owner.table !== 'controls') joined.join(network.links.from[link]!, network.links.to[link]!);
  });
  const byRoot = gathered(outlets.length, (i) => joined.root(network.outlets.node[i]!));
  const feeds = new Map<number, Ref<'controls' | 'supplies'>[]>();
  const feed = (node: number, ref: Ref<'controls' | 'supplies'>): void => {
    const root = joined.root(node);
    feeds.set(root, [...(feeds.get(root) ?? []), ref]);
  };
  for (const { id, outlet, fed } of parts.controls) if (fed) feed(outlet, { table: 'controls', id });
  for (const { id, node } of parts.supplies) feed(node, { table: 'supplies', id });
  return [...byRoot].map(([root, own]) => ({ feeds: feeds.get(root) ?? [], outlets: own }));
});

/** By supply: indices of all outlets that it feeds, past control sets too. Supplies without any are left out. */
export const supplyOutlets = memo((planNetwork: PlanNetwork): ReadonlyMap<string, readonly number[]> => {
  const { network, parts, outlets } = planNetwork;
  const joined = new UnionFind(network.nodes.count);
  for (let link = 0; link < network.links.count; link++) {
    joined.join(network.links.from[link]!, network.links.to[link]!);
  }
  const byRoot = gathered(outlets.length, (i) => joined.root(network.outlets.node[i]!));
  return new Map(
    parts.supplies.flatMap(({ id, node }) => {
      const own = byRoot.get(joined.root(node));
      return own ? [[id, own] as const] : [];
    }),
  );
});

/** How a group is called in a sentence: `control set "C1"`, or the valve's name. */
export function groupName(plan: Pick<Plan, 'controls' | 'supplies'>, { feeds }: DripGroup): string {
  const controls = feeds.filter(({ table }) => table === 'controls');
  const [first] = controls.length > 0 ? controls : feeds;
  if (!first) return 'drip that no valve reaches';
  const name = called(plan[first.table].get(first.id) ?? { id: first.id });
  return first.table === 'controls' ? `control set ${name}` : `valve ${name}`;
}

function gathered(count: number, keyOf: (i: number) => number): Map<number, number[]> {
  const found = new Map<number, number[]>();
  for (let i = 0; i < count; i++) {
    const key = keyOf(i);
    const list = found.get(key);
    if (list) list.push(i);
    else found.set(key, [i]);
  }
  return found;
}
