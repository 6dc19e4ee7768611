import { LINK, type Finding, type Links } from './network.ts';

/**
 * Links at each node, and the order in which water reaches the nodes from the held heads. Regulators and check
 * valves are followed in their own direction only.
 */
export interface Graph {
  readonly nodeCount: number;
  /** Links at node v: `incident[start[v]]` to `incident[start[v + 1] - 1]`. */
  readonly start: Int32Array;
  readonly incident: Int32Array;
  /** Nodes with a way to a held head, each after the node from which water comes to it. */
  readonly order: Int32Array;
  /** Link by which the node was reached; -1 for a held head, -2 where there is no way. */
  readonly reachedBy: Int32Array;
}

/** Builds the graph of the links that are not left out. */
export function buildGraph(
  nodeCount: number,
  links: Links,
  linkOk: Uint8Array,
  nodeFixed: Uint8Array,
): Graph {
  const { from, to } = links;
  const start = new Int32Array(nodeCount + 1);
  for (let l = 0; l < links.count; l++) {
    if (linkOk[l] === 0) continue;
    start[from[l]! + 1]!++;
    start[to[l]! + 1]!++;
  }
  for (let v = 0; v < nodeCount; v++) start[v + 1]! += start[v]!;
  const incident = new Int32Array(start[nodeCount]!);
  const fill = start.slice(0, nodeCount);
  for (let l = 0; l < links.count; l++) {
    if (linkOk[l] === 0) continue;
    incident[fill[from[l]!]!++] = l;
    incident[fill[to[l]!]!++] = l;
  }

  const reachedBy = fill.fill(-2);
  let fixedCount = 0;
  for (let v = 0; v < nodeCount; v++) fixedCount += nodeFixed[v]!;
  const graph = { nodeCount, start, incident, reachedBy };
  const loops = incident.length > 2 * (nodeCount - fixedCount);
  // With loops the shortest ways are wanted, found breadth first; without, there is but one.
  return {
    ...graph,
    order: loops ? breadthFirst(graph, links, nodeFixed) : depthFirst(graph, links, nodeFixed),
  };
}

/** The node at the other end of a link; -1 where water cannot go that way. */
function across(links: Links, l: number, v: number): number {
  const w = links.to[l]!;
  if (w !== v) return w;
  const kind = links.kind[l]!;
  return kind === LINK.regulator || kind === LINK.check ? -1 : links.from[l]!;
}

/** Nodes breadth first; notes by which link each one is reached. */
function breadthFirst(graph: Omit<Graph, 'order'>, links: Links, nodeFixed: Uint8Array): Int32Array {
  const { nodeCount, start, incident, reachedBy } = graph;
  const queue = new Int32Array(nodeCount);
  let tail = 0;
  for (let v = 0; v < nodeCount; v++) {
    if (nodeFixed[v] === 0) continue;
    reachedBy[v] = -1;
    queue[tail++] = v;
  }
  for (let head = 0; head < tail; head++) {
    const v = queue[head]!;
    for (let p = start[v]!, end = start[v + 1]!; p < end; p++) {
      const l = incident[p]!;
      const w = across(links, l, v);
      if (w < 0 || reachedBy[w] !== -2) continue;
      reachedBy[w] = l;
      queue[tail++] = w;
    }
  }
  return queue.slice(0, tail);
}

/** Nodes along the ways of the water, one branch after the other, so that neighbours lie near each other in memory. */
function depthFirst(graph: Omit<Graph, 'order'>, links: Links, nodeFixed: Uint8Array): Int32Array {
  const { nodeCount, start, incident, reachedBy } = graph;
  const order = new Int32Array(nodeCount);
  const stack = new Int32Array(nodeCount);
  let count = 0;
  let top = 0;
  for (let v = 0; v < nodeCount; v++) {
    if (nodeFixed[v] === 0) continue;
    reachedBy[v] = -1;
    stack[top++] = v;
  }
  while (top > 0) {
    const v = stack[--top]!;
    order[count++] = v;
    for (let p = start[v]!, end = start[v + 1]!; p < end; p++) {
      const l = incident[p]!;
      const w = across(links, l, v);
      if (w < 0 || reachedBy[w] !== -2) continue;
      reachedBy[w] = l;
      stack[top++] = w;
    }
  }
  return order.slice(0, count);
}

/** Names the parts of the network that no water can reach: one finding for each part, or one for all of it. */
export function findingsOfUnreached(graph: Graph, links: Links, outletNode: Int32Array): Finding[] {
  const { nodeCount, start, incident, order, reachedBy } = graph;
  if (order.length === nodeCount) return [];
  const part = new Int32Array(nodeCount).fill(-1);
  const parts: { nodes: number[]; links: number[]; outlets: number[] }[] = [];
  for (let seed = 0; seed < nodeCount; seed++) {
    if (reachedBy[seed] !== -2 || part[seed] !== -1) continue;
    const id = parts.length;
    const nodes = [seed];
    const partLinks: number[] = [];
    part[seed] = id;
    for (let head = 0; head < nodes.length; head++) {
      const v = nodes[head]!;
      for (let p = start[v]!; p < start[v + 1]!; p++) {
        const l = incident[p]!;
        const other = links.from[l]! === v ? links.to[l]! : links.from[l]!;
        const inside = reachedBy[other] === -2;
        if (!inside || links.from[l]! === v) partLinks.push(l);
        if (inside && part[other] === -1) {
          part[other] = id;
          nodes.push(other);
        }
      }
    }
    parts.push({ nodes, links: partLinks, outlets: [] });
  }
  for (let k = 0; k < outletNode.length; k++) {
    const v = outletNode[k]!;
    if (v >= 0 && v < nodeCount && part[v]! >= 0) parts[part[v]!]!.outlets.push(k);
  }
  if (order.length === 0) {
    return [
      {
        kind: 'no-source',
        nodes: parts.flatMap((p) => p.nodes),
        links: parts.flatMap((p) => p.links),
        outlets: parts.flatMap((p) => p.outlets),
        message: 'No node holds a head: there is no supply. Give the supply a pressure and connect it.',
      },
    ];
  }
  return parts.map((p) => ({
    kind: 'not-connected' as const,
    ...p,
    message:
      'This part has no way to a supply, or only backwards through a check valve or regulator, and gets no water. ' +
      'Connect it to pipe that has water.',
  }));
}
