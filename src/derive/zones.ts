import { headToKpa, m3sToLph, type Solution } from '../hydraulics/index.ts';
import type { Network } from '../hydraulics/network.ts';
import { UnionFind } from './network/union-find.ts';
import type { PlacedSupply, PlanNetwork, SupplyResult, ZoneResult } from './results.ts';

/**
 * What leaves each control set, and each supply that feeds outlets without one. A control set that feeds another one
 * counts what that one passes on; two that feed one net both count its outlets, but each its own flow.
 */
export function zonesOf({ network, pieces, outlets, parts }: PlanNetwork, solution: Solution): ZoneResult[] {
  const groups = new UnionFind(network.nodes.count);
  for (let link = 0; link < network.links.count; link++) {
    if (pieces[link]!.owner.table === 'controls') continue;
    groups.join(network.links.from[link]!, network.links.to[link]!);
  }
  const count = new Map<number, number>();
  const flow = new Map<number, number>();
  outlets.forEach((_, i) => {
    const group = groups.root(network.outlets.node[i]!);
    count.set(group, (count.get(group) ?? 0) + 1);
    flow.set(group, (flow.get(group) ?? 0) + solution.outletM3s[i]!);
  });
  const pressureKpa = (node: number): number =>
    headToKpa(solution.headM[node]! - network.nodes.elevationM[node]!);

  const countBehind = (outlet: number): number => {
    const seen = new Set<number>();
    const open = [groups.root(outlet)];
    let total = 0;
    while (open.length > 0) {
      const group = open.pop()!;
      if (seen.has(group)) continue;
      seen.add(group);
      total += count.get(group) ?? 0;
      for (const control of parts.controls) {
        if (groups.root(control.inlet) === group) open.push(groups.root(control.outlet));
      }
    }
    return total;
  };
  const zones = parts.controls.map((control): ZoneResult => ({
    owner: { table: 'controls', id: control.id },
    flowLph: m3sToLph(solution.flowM3s[control.regulatorLink]!),
    outletCount: countBehind(control.outlet),
    inletKpa: pressureKpa(control.inlet),
    outletKpa: pressureKpa(control.outlet),
    filteredKpa: pressureKpa(network.links.from[control.regulatorLink]!),
  }));
  const told = new Set<number>();
  for (const supply of parts.supplies) {
    const group = groups.root(supply.node);
    if (!count.has(group) || told.has(group)) continue;
    told.add(group);
    zones.push({
      owner: { table: 'supplies', id: supply.id },
      flowLph: m3sToLph(flow.get(group)!),
      outletCount: count.get(group)!,
      inletKpa: pressureKpa(supply.node),
      outletKpa: pressureKpa(supply.node),
      filteredKpa: null,
    });
  }
  return zones;
}

/** Links and outlets at the node of each supply: looked for once in a network, as there may be many supplies. */
interface AtSupply {
  /** Links that leave the node, and those that come to it. */
  readonly away: number[];
  readonly towards: number[];
  readonly outlets: number[];
}
const atSupplies = new WeakMap<Network, ReadonlyMap<number, AtSupply>>();

function atSuppliesOf({ network, parts }: PlanNetwork): ReadonlyMap<number, AtSupply> {
  const known = atSupplies.get(network);
  if (known) return known;
  const found = new Map<number, AtSupply>();
  for (const { node } of parts.supplies) found.set(node, { away: [], towards: [], outlets: [] });
  const { from, to, count } = network.links;
  for (let link = 0; link < count; link++) {
    found.get(from[link]!)?.away.push(link);
    found.get(to[link]!)?.towards.push(link);
  }
  for (let i = 0; i < network.outlets.count; i++) found.get(network.outlets.node[i]!)?.outlets.push(i);
  atSupplies.set(network, found);
  return found;
}

/** Flow that leaves a supply into all that it feeds, L/h. */
export function supplyFlowLph(planNetwork: PlanNetwork, solution: Solution, supply: PlacedSupply): number {
  if (supply.link >= 0) return m3sToLph(solution.flowM3s[supply.link]!);
  const { away, towards, outlets } = atSuppliesOf(planNetwork).get(supply.node)!;
  let out = 0;
  for (const link of away) out += solution.flowM3s[link]!;
  for (const link of towards) out -= solution.flowM3s[link]!;
  for (const i of outlets) out += solution.outletM3s[i]!;
  return m3sToLph(out);
}

/** What each supply gives and where its pressure goes before the outlet of its valve. */
export function suppliesOf(planNetwork: PlanNetwork, solution: Solution): SupplyResult[] {
  const { network, parts } = planNetwork;
  const { from, to } = network.links;
  const { headM } = solution;
  return parts.supplies.map((supply): SupplyResult => ({
    id: supply.id,
    flowLph: supplyFlowLph(planNetwork, solution, supply),
    staticKpa: supply.staticKpa,
    outletKpa: headToKpa(headM[supply.node]! - network.nodes.elevationM[supply.node]!),
    losses: supply.chain.map(({ part, link }) => ({
      part,
      lossKpa: headToKpa(headM[from[link]!]! - headM[to[link]!]!),
    })),
  }));
}
