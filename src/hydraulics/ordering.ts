import type { Links } from './network.ts';
import type { Graph } from './graph.ts';

/**
 * In which order the free nodes are eliminated, and what then is joined to what. Nodes of lowest degree go first
 * (minimum degree, after Tinney and Walker, Proceedings of the IEEE 55, 1967): the ends of branches, then chains, and
 * last the core of the loops. A tree gets no fill at all; its cost is linear. A held neighbour counts as one more, so
 * that a tree is taken up from its ends to its source and what hangs on a dead end follows it exactly.
 */
export interface Ordering {
  /** Free nodes in order of elimination. */
  readonly sequence: Int32Array;
  /** Later neighbours of the k-th node: `later[column[k]]` to `later[column[k + 1] - 1]`; a slot is an index of these. */
  readonly column: Int32Array;
  readonly later: Int32Array;
  /**
   * For the k-th node, from `pair[k]` on: the slots of all pairs of its later neighbours (first with second, first
   * with third, ..., second with third, ...). Ends at `pair[k + 1]`.
   */
  readonly pair: Int32Array;
  readonly pairSlot: Int32Array;
  /** Slot of the edge that a link lies on; -1 where an end is held or not reached, or the link is left out. */
  readonly linkSlot: Int32Array;
}

/** Growing list of half edges, as singly linked lists by node. */
class HalfEdges {
  readonly first: Int32Array;
  next: Int32Array;
  target: Int32Array;
  edge: Int32Array;
  count = 0;

  constructor(nodeCount: number, capacity: number) {
    this.first = new Int32Array(nodeCount).fill(-1);
    this.next = new Int32Array(capacity);
    this.target = new Int32Array(capacity);
    this.edge = new Int32Array(capacity);
  }

  add(at: number, target: number, edge: number): void {
    if (this.count === this.next.length) {
      this.next = grown(this.next);
      this.target = grown(this.target);
      this.edge = grown(this.edge);
    }
    const h = this.count++;
    this.target[h] = target;
    this.edge[h] = edge;
    this.next[h] = this.first[at]!;
    this.first[at] = h;
  }
}

function grown(array: Int32Array): Int32Array<ArrayBuffer> {
  const next = new Int32Array(Math.max(16, array.length * 2));
  next.set(array);
  return next;
}

/** Nodes by degree, each in the list of its degree; gives the one that was put last into the lowest list. */
class DegreeLists {
  private readonly head: Int32Array;
  private readonly next: Int32Array;
  private readonly previous: Int32Array;
  private lowest = 0;

  constructor(nodeCount: number) {
    this.head = new Int32Array(nodeCount + 2).fill(-1);
    this.next = new Int32Array(nodeCount);
    this.previous = new Int32Array(nodeCount);
  }

  put(v: number, degree: number): void {
    const h = this.head[degree]!;
    this.next[v] = h;
    this.previous[v] = -1;
    if (h !== -1) this.previous[h] = v;
    this.head[degree] = v;
    if (degree < this.lowest) this.lowest = degree;
  }

  take(v: number, degree: number): void {
    const n = this.next[v]!;
    const p = this.previous[v]!;
    if (p === -1) this.head[degree] = n;
    else this.next[p] = n;
    if (n !== -1) this.previous[n] = p;
  }

  /** The lists must not be empty. */
  lowestNode(): number {
    while (this.head[this.lowest] === -1) this.lowest++;
    return this.head[this.lowest]!;
  }
}

/** Works out the order of elimination. `free[v]` is 1 where the head is sought. */
export function buildOrdering(graph: Graph, links: Links, free: Uint8Array): Ordering {
  return orderingOfTree(graph, links, free) ?? orderingByDegree(graph, links, free);
}

/** Without loops the way back on which water came is such an order. Undefined where there are loops. */
function orderingOfTree(graph: Graph, links: Links, free: Uint8Array): Ordering | undefined {
  const { order, reachedBy, incident } = graph;
  let ways = 0;
  for (let i = 0; i < order.length; i++) if (reachedBy[order[i]!]! >= 0) ways++;
  if (incident.length !== 2 * ways) return undefined;
  const linkSlot = new Int32Array(links.count).fill(-1);
  const sequence = new Int32Array(ways);
  const column = new Int32Array(ways + 1);
  const later = new Int32Array(ways);
  let slots = 0;
  for (let i = order.length - 1, k = 0; k < ways; i--) {
    const v = order[i]!;
    const l = reachedBy[v]!;
    if (l < 0) continue;
    const u = links.from[l] === v ? links.to[l]! : links.from[l]!;
    sequence[k++] = v;
    if (free[u] === 1) {
      linkSlot[l] = slots;
      later[slots++] = u;
    }
    column[k] = slots;
  }
  return {
    sequence,
    column,
    later: later.subarray(0, slots),
    pair: new Int32Array(ways + 1),
    pairSlot: new Int32Array(0),
    linkSlot,
  };
}

function orderingByDegree(graph: Graph, links: Links, free: Uint8Array): Ordering {
  const n = graph.nodeCount;
  const half = new HalfEdges(n, graph.incident.length);
  const degree = new Int32Array(n);
  const linkEdge = new Int32Array(links.count).fill(-1);
  const edgeCount = joinParallel(graph, links, free, half, degree, linkEdge);

  const held = heldNeighbours(graph, links, free);
  const lists = new DegreeLists(n);
  let freeCount = 0;
  for (let v = n - 1; v >= 0; v--) {
    if (free[v] === 0) continue;
    lists.put(v, degree[v]! + held[v]!);
    freeCount++;
  }

  const gone = new Uint8Array(n);
  const mark = new Int32Array(n).fill(-1);
  const sequence = new Int32Array(freeCount);
  const column = new Int32Array(freeCount + 1);
  const pair = new Int32Array(freeCount + 1);
  let later = new Int32Array(Math.max(16, edgeCount));
  let slotEdge = new Int32Array(later.length);
  let pairEdge = new Int32Array(16);
  let edges = edgeCount;
  let slots = 0;
  let pairs = 0;

  for (let k = 0; k < freeCount; k++) {
    const v = lists.lowestNode();
    const d = degree[v]!;
    lists.take(v, d + held[v]!);
    gone[v] = 1;
    sequence[k] = v;
    while (slots + d > later.length) {
      later = grown(later);
      slotEdge = grown(slotEdge);
    }
    const begin = slots;
    for (let h = half.first[v]!; h !== -1; h = half.next[h]!) {
      const w = half.target[h]!;
      if (gone[w] === 1) continue;
      later[slots] = w;
      slotEdge[slots++] = half.edge[h]!;
    }
    column[k + 1] = slots;
    while (pairs + (d * (d - 1)) / 2 > pairEdge.length) pairEdge = grown(pairEdge);
    if (d === 1) {
      const a = later[begin]!;
      lists.take(a, degree[a]! + held[a]!);
      degree[a]!--;
      lists.put(a, degree[a]! + held[a]!);
    } else if (d > 1) {
      for (let i = begin; i < slots; i++) {
        const a = later[i]!;
        lists.take(a, degree[a]! + held[a]!);
        degree[a]!--;
      }
      for (let i = begin; i < slots - 1; i++) {
        const a = later[i]!;
        const few = d === 2 && degree[later[i + 1]!]! < degree[a]!;
        if (d > 2) markNeighbours(half, a, gone, mark);
        for (let j = i + 1; j < slots; j++) {
          const b = later[j]!;
          let edge = d > 2 ? mark[b]! : few ? edgeBetween(half, b, a, gone) : edgeBetween(half, a, b, gone);
          if (edge === -1) {
            edge = edges++;
            half.add(a, b, edge);
            half.add(b, a, edge);
            degree[a]!++;
            degree[b]!++;
          }
          pairEdge[pairs++] = edge;
        }
        if (d > 2) unmark(half, a, mark);
      }
      for (let i = begin; i < slots; i++) {
        const a = later[i]!;
        lists.put(a, degree[a]! + held[a]!);
      }
    }
    pair[k + 1] = pairs;
  }

  const slotOf = new Int32Array(edges);
  for (let s = 0; s < slots; s++) slotOf[slotEdge[s]!] = s;
  const pairSlot = new Int32Array(pairs);
  for (let p = 0; p < pairs; p++) pairSlot[p] = slotOf[pairEdge[p]!]!;
  for (let l = 0; l < links.count; l++) if (linkEdge[l] !== -1) linkEdge[l] = slotOf[linkEdge[l]!]!;
  return { sequence, column, later: later.slice(0, slots), pair, pairSlot, linkSlot: linkEdge };
}

/** 1 where a free node has a neighbour whose head is held. */
function heldNeighbours(graph: Graph, links: Links, free: Uint8Array): Uint8Array {
  const held = new Uint8Array(graph.nodeCount);
  const { start, incident, reachedBy, order } = graph;
  for (let i = 0; i < order.length; i++) {
    const v = order[i]!;
    if (reachedBy[v] !== -1) continue;
    for (let p = start[v]!; p < start[v + 1]!; p++) {
      const l = incident[p]!;
      const w = links.from[l] === v ? links.to[l]! : links.from[l]!;
      if (free[w] === 1) held[w] = 1;
    }
  }
  return held;
}

/** One edge for all links between the same two free nodes. Gives the number of edges. */
function joinParallel(
  graph: Graph,
  links: Links,
  free: Uint8Array,
  half: HalfEdges,
  degree: Int32Array,
  linkEdge: Int32Array,
): number {
  const { from, to } = links;
  const seenFrom = new Int32Array(graph.nodeCount).fill(-1);
  const seenEdge = new Int32Array(graph.nodeCount);
  let edges = 0;
  for (let v = 0; v < graph.nodeCount; v++) {
    if (free[v] === 0) continue;
    for (let p = graph.start[v]!, end = graph.start[v + 1]!; p < end; p++) {
      const l = graph.incident[p]!;
      const w = from[l]! === v ? to[l]! : from[l]!;
      if (w < v || free[w] === 0) continue;
      if (seenFrom[w] !== v) {
        seenFrom[w] = v;
        seenEdge[w] = edges;
        half.add(v, w, edges);
        half.add(w, v, edges);
        degree[v]!++;
        degree[w]!++;
        edges++;
      }
      linkEdge[l] = seenEdge[w]!;
    }
  }
  return edges;
}

/** Notes for each neighbour of `a` that is still there the edge that leads to it, and drops the others from the list. */
function markNeighbours(half: HalfEdges, a: number, gone: Uint8Array, mark: Int32Array): void {
  let before = -1;
  for (let h = half.first[a]!; h !== -1; h = half.next[h]!) {
    const w = half.target[h]!;
    if (gone[w] === 1) {
      if (before === -1) half.first[a] = half.next[h]!;
      else half.next[before] = half.next[h]!;
    } else {
      mark[w] = half.edge[h]!;
      before = h;
    }
  }
}

/** The edge from `a` to `b`, -1 for none; drops from the list of `a` what is gone on the way. */
function edgeBetween(half: HalfEdges, a: number, b: number, gone: Uint8Array): number {
  let before = -1;
  for (let h = half.first[a]!; h !== -1; h = half.next[h]!) {
    const w = half.target[h]!;
    if (w === b) return half.edge[h]!;
    if (gone[w] === 0) before = h;
    else if (before === -1) half.first[a] = half.next[h]!;
    else half.next[before] = half.next[h]!;
  }
  return -1;
}

function unmark(half: HalfEdges, a: number, mark: Int32Array): void {
  for (let h = half.first[a]!; h !== -1; h = half.next[h]!) mark[half.target[h]!] = -1;
}
