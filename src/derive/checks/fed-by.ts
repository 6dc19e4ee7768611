import { memo } from '../../base/memo.ts';
import { UnionFind } from '../network/union-find.ts';
import type { PlanNetwork } from '../results.ts';

/** Which supply and which control set the water of each outlet and each run comes through. */
export interface FedBy {
  /** By outlet: index into the network's supplies, or -1. */
  readonly supplyOfOutlet: Int32Array;
  /** By outlet: index into the network's control sets, the last one that the water passes, or -1. */
  readonly controlOfOutlet: Int32Array;
  /** The same by run; runs without water are not in the maps. */
  readonly supplyOfRun: ReadonlyMap<string, number>;
  readonly controlOfRun: ReadonlyMap<string, number>;
}

/**
 * Follows the pipes, not the flow, so that it does not change with pressures. Where several supplies or control sets
 * feed one net the first counts.
 */
export const fedBy = memo(({ network, pieces, parts, runNodes }: PlanNetwork): FedBy => {
  const whole = new UnionFind(network.nodes.count);
  const zones = new UnionFind(network.nodes.count);
  for (let link = 0; link < network.links.count; link++) {
    const from = network.links.from[link]!;
    const to = network.links.to[link]!;
    whole.join(from, to);
    if (pieces[link]!.owner.table !== 'controls') zones.join(from, to);
  }
  const supplyAt = new Map<number, number>();
  parts.supplies.forEach(({ node }, i) => {
    const group = whole.root(node);
    if (!supplyAt.has(group)) supplyAt.set(group, i);
  });
  const controlAt = new Map<number, number>();
  parts.controls.forEach(({ outlet, fed }, i) => {
    const group = zones.root(outlet);
    if (fed && !controlAt.has(group)) controlAt.set(group, i);
  });
  const supplyOf = (node: number): number => supplyAt.get(whole.root(node)) ?? -1;
  const controlOf = (node: number): number => controlAt.get(zones.root(node)) ?? -1;
  const nodes = network.outlets.node.subarray(0, network.outlets.count);
  const supplyOfRun = new Map<string, number>();
  const controlOfRun = new Map<string, number>();
  for (const [runId, [first]] of runNodes) {
    if (first === undefined) continue;
    const supply = supplyOf(first);
    const control = controlOf(first);
    if (supply >= 0) supplyOfRun.set(runId, supply);
    if (control >= 0) controlOfRun.set(runId, control);
  }
  return {
    supplyOfOutlet: Int32Array.from(nodes, supplyOf),
    controlOfOutlet: Int32Array.from(nodes, controlOf),
    supplyOfRun,
    controlOfRun,
  };
});
