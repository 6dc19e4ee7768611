import { nearestOnSegment } from '../../base/polyline.ts';
import { STANDS_ON_M } from '../../plan/joining.ts';
import type { Head, LateralPipe, Plan } from '../../plan/records.ts';
import { UnionFind } from '../network/union-find.ts';
import type { PlanNetwork } from '../results.ts';

/** Heads whose pipe, or whose zone, is that of a valve with drip behind it. */
export function headsOnDripValve(
  { heads, laterals, supplies }: Pick<Plan, 'heads' | 'laterals' | 'supplies'>,
  { network, pieces, parts }: PlanNetwork,
): Head[] {
  if (heads.size === 0) return [];
  const groups = new UnionFind(network.nodes.count);
  for (let link = 0; link < network.links.count; link++) {
    groups.join(network.links.from[link]!, network.links.to[link]!);
  }
  const drip = new Set<number>();
  for (const node of network.outlets.node) drip.add(groups.root(node));
  for (const control of parts.controls) if (control.fed) drip.add(groups.root(control.inlet));
  const wet = new Set<string>();
  pieces.forEach(({ owner }, link) => {
    if (owner.table === 'laterals' && drip.has(groups.root(network.links.from[link]!))) wet.add(owner.id);
  });
  const zones = new Set<string>();
  for (const placed of parts.supplies) {
    const zone = supplies.get(placed.id)?.zone;
    if (zone && drip.has(groups.root(placed.node))) zones.add(zone);
  }
  return [...heads].filter(
    (head) =>
      (head.zone !== null && zones.has(head.zone)) ||
      pipesAt(head, laterals).some((pipe) => wet.has(pipe.id)),
  );
}

/** The pipes that name a head, or that it stands on. */
export function pipesAt(head: Head, laterals: Plan['laterals']): LateralPipe[] {
  return [...laterals].filter(
    (pipe) =>
      (pipe.zone === null || head.zone === null || pipe.zone === head.zone) &&
      (pipe.from === head.id ||
        pipe.to === head.id ||
        nearestOnSegment(pipe.a, pipe.b, head.at).distance <= STANDS_ON_M),
  );
}
