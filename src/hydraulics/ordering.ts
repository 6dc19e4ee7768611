import type { Links } from './network.ts';
import type { Graph } from './graph.ts';
import { fold } from './fold.ts';
import { orderJoints } from './joints.ts';

/**
 * In which order the free nodes are eliminated, and what then is joined to what. The place of a node in this order is
 * its position; all arrays of the iteration go by position, so that it walks through memory. First go the ends of
 * branches, then the chains of nodes between two joints, each from one end to the other, and last the joints. A tree
 * gets no fill at all, a chain one conductance a node; the cost of both is linear.
 */
export interface Ordering {
  /** Number of free nodes. */
  readonly free: number;
  /** Node at a position: the free ones in order of elimination, then the held ones. */
  readonly sequence: Int32Array;
  /** Position of a node; -1 where there is no way to a source. */
  readonly position: Int32Array;
  /** Later neighbours of position k: `later[column[k]]` to `later[column[k + 1] - 1]`; a slot is an index of these. */
  readonly column: Int32Array;
  readonly later: Int32Array;
  /**
   * From `pair[k]` on: the slots of all pairs of later neighbours of position k (first with second, first with third,
   * ..., second with third, ...). Ends at `pair[k + 1]`.
   */
  readonly pair: Int32Array;
  readonly pairSlot: Int32Array;
  /**
   * Links by the position of the end that goes first: `linkAt[linkStart[k]]` to `linkAt[linkStart[k + 1] - 1]`; the
   * place in this list is the position of a link. Links between held nodes come at the end.
   */
  readonly linkStart: Int32Array;
  readonly linkAt: Int32Array;
  /** By link position: slot of the edge that it lies on; -1 where the other end is held. */
  readonly linkSlot: Int32Array;
  /** Positions of the ends of a link: the one that goes first, and the other. */
  readonly owner: Int32Array;
  readonly other: Int32Array;
  /** 1 where the link runs from other to owner in the network. */
  readonly turned: Uint8Array;
}

/** Works out the order of elimination. `free[v]` is 1 where the head is sought. */
export function buildOrdering(graph: Graph, links: Links, free: Uint8Array): Ordering {
  return orderingOfTree(graph, links, free) ?? orderingWithLoops(graph, links, free);
}

/** Without loops the way back on which water came is such an order. Undefined where there are loops. */
function orderingOfTree(graph: Graph, links: Links, free: Uint8Array): Ordering | undefined {
  const { order, reachedBy, incident, nodeCount } = graph;
  let ways = 0;
  for (let i = 0; i < order.length; i++) if (reachedBy[order[i]!]! >= 0) ways++;
  if (incident.length !== 2 * ways) return undefined;
  const sequence = new Int32Array(order.length);
  const position = new Int32Array(nodeCount).fill(-1);
  const linkAt = new Int32Array(ways);
  for (let i = order.length - 1, k = 0, held = ways; i >= 0; i--) {
    const v = order[i]!;
    const l = reachedBy[v]!;
    if (l >= 0) linkAt[k] = l;
    const at = l >= 0 ? k++ : held++;
    sequence[at] = v;
    position[v] = at;
  }
  const column = new Int32Array(ways + 1);
  const later = new Int32Array(ways);
  const linkStart = new Int32Array(ways + 1);
  const linkSlot = new Int32Array(ways);
  const owner = new Int32Array(ways);
  const other = new Int32Array(ways);
  const turned = new Uint8Array(ways);
  let slots = 0;
  for (let k = 0; k < ways; k++) {
    const l = linkAt[k]!;
    let u = links.from[l]!;
    if (u === sequence[k]) u = links.to[l]!;
    else turned[k] = 1;
    const o = position[u]!;
    owner[k] = k;
    other[k] = o;
    if (free[u] === 1) {
      linkSlot[k] = slots;
      later[slots++] = o;
    } else linkSlot[k] = -1;
    column[k + 1] = slots;
    linkStart[k + 1] = k + 1;
  }
  return {
    free: ways,
    sequence,
    position,
    column,
    later: later.subarray(0, slots),
    pair: new Int32Array(ways + 1),
    pairSlot: new Int32Array(0),
    linkStart,
    linkAt,
    linkSlot,
    owner,
    other,
    turned,
  };
}

function orderingWithLoops(graph: Graph, links: Links, free: Uint8Array): Ordering {
  const { order, nodeCount } = graph;
  const folded = fold(graph, links, free);
  const core = orderJoints(folded, graph, links, free);
  const { count, slots, pairs, sequence, column, pair, linkStart } = folded;
  const freeCount = count + core.sequence.length;

  // What folding has begun goes on in its arrays, which have room for all nodes.
  const position = new Int32Array(nodeCount).fill(-1);
  for (let k = 0; k < core.sequence.length; k++) sequence[count + k] = folded.joints[core.sequence[k]!]!;
  for (let i = 0, at = freeCount; i < order.length; i++)
    if (free[order[i]!] === 0) sequence[at++] = order[i]!;
  for (let k = 0; k < order.length; k++) position[sequence[k]!] = k;
  for (let k = 1; k <= core.sequence.length; k++) {
    column[count + k] = slots + core.column[k]!;
    pair[count + k] = pairs + core.pair[k]!;
  }
  const later = withRoom(folded.later, slots + core.later.length);
  for (let s = 0; s < slots; s++) later[s] = position[later[s]!]!;
  for (let s = 0; s < core.later.length; s++) later[slots + s] = position[folded.joints[core.later[s]!]!]!;
  const pairSlot = withRoom(folded.pairSlot, pairs + core.pairEdge.length);
  for (let p = 0; p < pairs; p++) {
    const slot = pairSlot[p]!;
    if (slot < 0) pairSlot[p] = slots + core.slotOf[-1 - slot]!;
  }
  for (let p = 0; p < core.pairEdge.length; p++)
    pairSlot[pairs + p] = slots + core.slotOf[core.pairEdge[p]!]!;

  // The links of the joints, and those between held nodes.
  const { linkAt, linkSlot, owner, other, turned } = folded;
  let linkCount = linkStart[count]!;
  for (let p = 0; p < linkCount; p++) other[p] = position[other[p]!]!;
  const { start, incident } = graph;
  for (let k = count; k < order.length; k++) {
    const v = sequence[k]!;
    for (let p = start[v]!, end = start[v + 1]!; p < end; p++) {
      const l = incident[p]!;
      const u = links.from[l] === v ? links.to[l]! : links.from[l]!;
      if (position[u]! < k && k < freeCount) continue;
      if (position[u]! < freeCount && k >= freeCount) continue;
      // Links between held nodes are met from both ends.
      if (k >= freeCount && links.from[l] !== v) continue;
      linkAt[linkCount] = l;
      owner[linkCount] = k;
      other[linkCount] = position[u]!;
      turned[linkCount] = links.from[l] === v ? 0 : 1;
      linkSlot[linkCount++] = free[u] === 1 ? slots + core.slotOf[core.linkEdge[l]!]! : -1;
    }
    if (k < freeCount) linkStart[k + 1] = linkCount;
  }
  return {
    free: freeCount,
    sequence: sequence.subarray(0, order.length),
    position,
    column,
    later,
    pair,
    pairSlot,
    linkStart,
    linkAt: linkAt.subarray(0, linkCount),
    linkSlot: linkSlot.subarray(0, linkCount),
    owner: owner.subarray(0, linkCount),
    other: other.subarray(0, linkCount),
    turned: turned.subarray(0, linkCount),
  };
}

/** The first `count` places of an array, or a longer one that begins alike. */
function withRoom(array: Int32Array<ArrayBuffer>, count: number): Int32Array<ArrayBuffer> {
  if (count <= array.length) return array.subarray(0, count);
  const longer = new Int32Array(count);
  longer.set(array);
  return longer;
}
