import { angleBetween, leavingDeg } from './directions.ts';
import { otherEnd, type PipeGraph } from './graph.ts';

/** A net without rings, seen from the valve. */
export interface Tree {
  /** From the valve outward. */
  readonly nodes: readonly number[];
  /** By node: pipes away from the valve, the pipe towards it (-1), and the distance from it. */
  readonly below: readonly (readonly number[])[];
  readonly above: readonly number[];
  readonly alongM: readonly number[];
}

/**
 * The tree behind a node of a net without rings.
 * @param without pipes that are passed over, with all behind them
 */
export function treeFrom(graph: PipeGraph, source: number, without: ReadonlySet<number> = NONE): Tree {
  const below = graph.nodes.map((): number[] => []);
  const above = graph.nodes.map(() => -1);
  const alongM = graph.nodes.map(() => 0);
  const nodes = [source];
  for (const n of nodes) {
    for (const e of graph.nodes[n]!.edges) {
      if (e === above[n] || without.has(e)) continue;
      const next = otherEnd(graph.edges[e]!, n);
      below[n]!.push(e);
      above[next] = e;
      alongM[next] = alongM[n]! + graph.edges[e]!.lengthM;
      nodes.push(next);
    }
  }
  return { nodes, below, above, alongM };
}

const NONE: ReadonlySet<number> = new Set();

/** Nodes at which the tree forks. */
export function forksOf({ nodes, below }: Tree): number[] {
  return nodes.filter((n) => below[n]!.length > 1);
}

/** The nodes behind a pipe up to the next fork or the end, and whether that is an end. */
export function armOf(
  graph: PipeGraph,
  tree: Tree,
  node: number,
  e: number,
): { readonly nodes: readonly number[]; readonly isUnbranched: boolean; readonly lengthM: number } {
  const nodes = [otherEnd(graph.edges[e]!, node)];
  for (;;) {
    const at = nodes.at(-1)!;
    const next = tree.below[at]!;
    if (next.length !== 1) {
      return { nodes, isUnbranched: next.length === 0, lengthM: tree.alongM[at]! - tree.alongM[node]! };
    }
    nodes.push(otherEnd(graph.edges[next[0]!]!, at));
  }
}

/** The nodes on the way from the valve to a node, that node first. */
export function wayBack(graph: PipeGraph, tree: Tree, node: number): number[] {
  const way = [node];
  for (let at = node; tree.above[at]! >= 0;) {
    at = otherEnd(graph.edges[tree.above[at]!]!, at);
    way.push(at);
  }
  return way;
}

/** The way back from an end to its last bend: where that is, direction, and length on the ground. */
export function lastStretch(
  graph: PipeGraph,
  tree: Tree,
  end: number,
  withinDeg: number,
): { readonly start: number; readonly deg: number; readonly lengthM: number } {
  const deg = leavingDeg(graph, end, tree.above[end]!);
  let lengthM = 0;
  let at = end;
  while (tree.above[at]! >= 0) {
    const e = tree.above[at]!;
    if (angleBetween(leavingDeg(graph, at, e), deg) > withinDeg) break;
    lengthM += graph.edges[e]!.lengthM;
    at = otherEnd(graph.edges[e]!, at);
  }
  return { start: at, deg, lengthM };
}
