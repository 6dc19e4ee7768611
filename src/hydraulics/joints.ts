import type { Links } from './network.ts';
import type { Graph } from './graph.ts';
import type { Folded } from './fold.ts';

/** Order of elimination of the joints that folding leaves; all by index of joint, slots from 0. */
export interface JointOrder {
  readonly sequence: Int32Array;
  readonly column: Int32Array;
  readonly later: Int32Array;
  readonly pair: Int32Array;
  /** As `pairSlot` of `Ordering`, but edges. */
  readonly pairEdge: Int32Array;
  /** Slot of an edge; the first edges are those of `Folded`. */
  readonly slotOf: Int32Array;
  /** By link: the edge that it lies on, where both its ends are joints. */
  readonly linkEdge: Int32Array;
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

/**
 * Joints of lowest degree go first (minimum degree, after Tinney and Walker, Proceedings of the IEEE 55, 1967). A held
 * neighbour counts as one more.
 */
export function orderJoints(folded: Folded, graph: Graph, links: Links, free: Uint8Array): JointOrder {
  const n = folded.joints.length;
  const half = new HalfEdges(n, 4 * folded.edgeFrom.length + 16);
  const degree = new Int32Array(n);
  const held = new Uint8Array(n);
  const linkEdge = new Int32Array(links.count).fill(-1);
  const aliasOf = new Int32Array(folded.edgeFrom.length);
  const edgeCount = joinParallel(folded, graph, links, free, { half, degree, held, linkEdge, aliasOf });

  const lists = new DegreeLists(n);
  for (let v = n - 1; v >= 0; v--) lists.put(v, degree[v]! + held[v]!);

  const gone = new Uint8Array(n);
  const mark = new Int32Array(n).fill(-1);
  const sequence = new Int32Array(n);
  const column = new Int32Array(n + 1);
  const pair = new Int32Array(n + 1);
  let later = new Int32Array(Math.max(16, edgeCount));
  let slotEdge = new Int32Array(later.length);
  let pairEdge = new Int32Array(16);
  let edges = edgeCount;
  let slots = 0;
  let pairs = 0;

  for (let k = 0; k < n; k++) {
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
  for (let e = 0; e < aliasOf.length; e++) slotOf[e] = slotOf[aliasOf[e]!]!;
  return {
    sequence,
    column,
    later: later.subarray(0, slots),
    pair,
    pairEdge: pairEdge.subarray(0, pairs),
    slotOf,
    linkEdge,
  };
}

interface Joined {
  readonly half: HalfEdges;
  readonly degree: Int32Array;
  readonly held: Uint8Array;
  readonly linkEdge: Int32Array;
  /** By edge of `Folded`: the edge that stands for all between the same two joints. */
  readonly aliasOf: Int32Array;
}

/** One edge for all chains and links between the same two joints. Gives the number of edges. */
function joinParallel(folded: Folded, graph: Graph, links: Links, free: Uint8Array, joined: Joined): number {
  const { joints, jointOf, edgeFrom, edgeTo } = folded;
  const { half, degree, held, linkEdge, aliasOf } = joined;
  const n = joints.length;
  const chainStart = new Int32Array(n + 1);
  for (let e = 0; e < edgeFrom.length; e++) chainStart[Math.min(edgeFrom[e]!, edgeTo[e]!) + 1]!++;
  for (let j = 0; j < n; j++) chainStart[j + 1]! += chainStart[j]!;
  const chains = new Int32Array(edgeFrom.length);
  const fill = chainStart.slice();
  for (let e = 0; e < edgeFrom.length; e++) chains[fill[Math.min(edgeFrom[e]!, edgeTo[e]!)]!++] = e;

  const seenFrom = new Int32Array(n).fill(-1);
  const seenEdge = new Int32Array(n);
  let edges = edgeFrom.length;
  const join = (a: number, b: number, edge: number): void => {
    seenFrom[b] = a;
    seenEdge[b] = edge;
    half.add(a, b, edge);
    half.add(b, a, edge);
    degree[a]!++;
    degree[b]!++;
  };
  for (let a = 0; a < n; a++) {
    for (let c = chainStart[a]!; c < chainStart[a + 1]!; c++) {
      const e = chains[c]!;
      const b = Math.max(edgeFrom[e]!, edgeTo[e]!);
      if (seenFrom[b] !== a) join(a, b, e);
      aliasOf[e] = seenEdge[b]!;
    }
    const v = joints[a]!;
    for (let p = graph.start[v]!, end = graph.start[v + 1]!; p < end; p++) {
      const l = graph.incident[p]!;
      const u = links.from[l] === v ? links.to[l]! : links.from[l]!;
      const b = jointOf[u]!;
      if (b < 0 && free[u] === 0 && graph.reachedBy[u] === -1) held[a] = 1;
      if (b <= a) continue;
      if (seenFrom[b] !== a) join(a, b, edges++);
      linkEdge[l] = seenEdge[b]!;
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
