import type { Links } from './network.ts';
import type { Graph } from './graph.ts';

/**
 * The part of an elimination that needs no search: branches from their ends to where they leave a loop, then the
 * chains of nodes with two links between joints (or held nodes), each from one end to the other. What remains are the
 * joints, with an edge for each chain.
 */
export interface Folded {
  /** Nodes eliminated here; the arrays by node have room for all. */
  readonly count: number;
  readonly sequence: Int32Array;
  /** As in `Ordering`, but `later` holds nodes, and a slot below zero in `pairSlot` is -1 less an edge of the joints. */
  readonly column: Int32Array;
  readonly later: Int32Array<ArrayBuffer>;
  readonly slots: number;
  readonly pair: Int32Array;
  readonly pairSlot: Int32Array<ArrayBuffer>;
  readonly pairs: number;
  readonly linkStart: Int32Array;
  /** With room for all links. */
  readonly linkAt: Int32Array;
  readonly linkSlot: Int32Array;
  readonly owner: Int32Array;
  /** Nodes, for now. */
  readonly other: Int32Array;
  readonly turned: Uint8Array;
  /** Free nodes that remain. */
  readonly joints: Int32Array;
  /** By node: index among the joints; -1 for others. */
  readonly jointOf: Int32Array;
  /** Ends of the edges that stand for chains, by index of joint; two joints may have several. */
  readonly edgeFrom: readonly number[];
  readonly edgeTo: readonly number[];
}

/** Folds branches and chains. `free[v]` is 1 where the head is sought. */
export function fold(graph: Graph, links: Links, free: Uint8Array): Folded {
  const { nodeCount, start, incident, order, reachedBy } = graph;
  const { from, to } = links;
  /** Links that lead to nodes not yet gone; nodes without a source count as gone. */
  const degree = new Int32Array(nodeCount);
  const gone = new Uint8Array(nodeCount);
  if (order.length === nodeCount) {
    for (let v = 0; v < nodeCount; v++) degree[v] = start[v + 1]! - start[v]!;
  } else {
    for (let v = 0; v < nodeCount; v++) {
      if (reachedBy[v] === -2) {
        gone[v] = 1;
        continue;
      }
      for (let p = start[v]!, end = start[v + 1]!; p < end; p++) {
        const l = incident[p]!;
        if (reachedBy[from[l] === v ? to[l]! : from[l]!] !== -2) degree[v]!++;
      }
    }
  }

  const linkRoom = incident.length / 2;
  const sequence = new Int32Array(nodeCount);
  const column = new Int32Array(nodeCount + 1);
  const later = new Int32Array(2 * nodeCount);
  const pair = new Int32Array(nodeCount + 1);
  const pairSlot = new Int32Array(nodeCount);
  const linkStart = new Int32Array(nodeCount + 1);
  const linkAt = new Int32Array(linkRoom);
  const linkSlot = new Int32Array(linkRoom);
  const owner = new Int32Array(linkRoom);
  const other = new Int32Array(linkRoom);
  const turned = new Uint8Array(linkRoom);
  let count = 0;
  let slots = 0;
  let pairs = 0;
  let linkCount = 0;

  for (let i = order.length - 1; i >= 0; i--) {
    let v = order[i]!;
    while (degree[v] === 1 && free[v] === 1 && gone[v] === 0) {
      let l = -1;
      let u = -1;
      for (let p = start[v]!; ; p++) {
        l = incident[p]!;
        u = from[l] === v ? to[l]! : from[l]!;
        if (gone[u] === 0) break;
      }
      linkAt[linkCount] = l;
      owner[linkCount] = count;
      other[linkCount] = u;
      turned[linkCount] = from[l] === v ? 0 : 1;
      linkSlot[linkCount++] = free[u] === 1 ? slots : -1;
      if (free[u] === 1) later[slots++] = u;
      gone[v] = 1;
      degree[u]!--;
      sequence[count++] = v;
      column[count] = slots;
      linkStart[count] = linkCount;
      v = u;
    }
  }

  // Chains begin at held nodes, which need no fill, and then at the joints.
  const jointOf = new Int32Array(nodeCount).fill(-1);
  const starts = new Int32Array(nodeCount);
  let startCount = 0;
  for (let i = 0; i < order.length; i++) if (free[order[i]!] === 0) starts[startCount++] = order[i]!;
  const heldCount = startCount;
  for (let i = 0; i < order.length; i++) {
    const v = order[i]!;
    if (free[v] === 0 || gone[v] === 1 || degree[v] === 2) continue;
    jointOf[v] = startCount - heldCount;
    starts[startCount++] = v;
  }

  const edgeFrom: number[] = [];
  const edgeTo: number[] = [];
  for (let i = 0; i < startCount; i++) {
    const a = starts[i]!;
    const aFree = free[a] === 1;
    for (let p = start[a]!, end = start[a + 1]!; p < end; p++) {
      let into = incident[p]!;
      let v = from[into] === a ? to[into]! : from[into]!;
      if (gone[v] === 1 || free[v] === 0 || jointOf[v]! >= 0) continue;
      linkAt[linkCount] = into;
      owner[linkCount] = count;
      other[linkCount] = a;
      turned[linkCount] = from[into] === v ? 0 : 1;
      linkSlot[linkCount++] = aFree ? slots : -1;
      for (let inside = true; inside;) {
        let l = -1;
        let u = -1;
        for (let q = start[v]!; ; q++) {
          l = incident[q]!;
          if (l === into) continue;
          u = from[l] === v ? to[l]! : from[l]!;
          if (gone[u] === 0) break;
        }
        gone[v] = 1;
        inside = free[u] === 1 && jointOf[u] === -1;
        if (aFree) later[slots++] = a;
        linkAt[linkCount] = l;
        owner[linkCount] = count;
        other[linkCount] = u;
        turned[linkCount] = from[l] === v ? 0 : 1;
        if (u === a && aFree) linkSlot[linkCount] = slots - 1;
        else if (free[u] === 1) {
          linkSlot[linkCount] = slots;
          later[slots++] = u;
        } else linkSlot[linkCount] = -1;
        linkCount++;
        sequence[count++] = v;
        column[count] = slots;
        linkStart[count] = linkCount;
        if (aFree && inside) pairSlot[pairs++] = slots;
        else if (aFree && free[u] === 1 && u !== a) {
          pairSlot[pairs++] = -1 - edgeFrom.length;
          edgeFrom.push(jointOf[a]!);
          edgeTo.push(jointOf[u]!);
        }
        pair[count] = pairs;
        into = l;
        v = u;
      }
    }
  }

  return {
    count,
    sequence,
    column,
    later,
    slots,
    pair,
    pairSlot,
    pairs,
    linkStart,
    linkAt,
    linkSlot,
    owner,
    other,
    turned,
    joints: starts.slice(heldCount, startCount),
    jointOf,
    edgeFrom,
    edgeTo,
  };
}
