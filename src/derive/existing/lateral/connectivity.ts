import { otherEnd, type PipeEdge, type PipeNode } from './graph.ts';

/** By node: whether water from `source` gets there. */
export function reachedFrom(
  nodes: readonly PipeNode[],
  edges: readonly PipeEdge[],
  source: number | null,
): boolean[] {
  const reached = nodes.map(() => false);
  if (source === null) return reached;
  const open = [source];
  reached[source] = true;
  while (open.length > 0) {
    const node = open.pop()!;
    for (const e of nodes[node]!.edges) {
      const next = otherEnd(edges[e]!, node);
      if (reached[next]) continue;
      reached[next] = true;
      open.push(next);
    }
  }
  return reached;
}

/** By edge: whether it is part of no ring (bridges by lowest reach of a depth-first search, Tarjan 1974). */
export function findBridges(nodes: readonly PipeNode[], edges: readonly PipeEdge[]): boolean[] {
  const bridges = edges.map(() => false);
  const entered = nodes.map(() => -1);
  const lowest = nodes.map(() => 0);
  let clock = 0;
  for (let start = 0; start < nodes.length; start++) {
    if (entered[start]! >= 0) continue;
    const stack = [{ node: start, through: -1, next: 0 }];
    entered[start] = lowest[start] = clock++;
    while (stack.length > 0) {
      const top = stack.at(-1)!;
      const e = nodes[top.node]!.edges[top.next++];
      if (e === undefined) {
        stack.pop();
        const parent = stack.at(-1);
        if (!parent) continue;
        lowest[parent.node] = Math.min(lowest[parent.node]!, lowest[top.node]!);
        bridges[top.through] = lowest[top.node]! > entered[parent.node]!;
        continue;
      }
      if (e === top.through) continue;
      const node = otherEnd(edges[e]!, top.node);
      if (entered[node]! >= 0) {
        lowest[top.node] = Math.min(lowest[top.node]!, entered[node]!);
        continue;
      }
      entered[node] = lowest[node] = clock++;
      stack.push({ node, through: e, next: 0 });
    }
  }
  return bridges;
}
