/** Pipes full of water, with the places where it may leave. */
export interface DrainGraph {
  /** Height of each node, metres; pipes rise evenly between their nodes. */
  readonly zM: readonly number[];
  readonly edges: readonly {
    readonly a: number;
    readonly b: number;
    readonly volumeL: number;
    /** Water passes from `a` to `b` only, and only when it stands above the place by `openM`. */
    readonly onlyAToB: boolean;
    readonly openM: number;
  }[];
  readonly outlets: readonly { readonly node: number; readonly zM: number; readonly closingM: number }[];
}

/** A way out from a node: to an outlet, and the height that water must have to take it. */
interface WayOut {
  readonly outlet: number;
  /** Highest place on the way. */
  readonly overM: number;
  /** Height down to which the outlet drains. */
  readonly downToM: number;
}

const SAME_HEIGHT = 1e-9;

/**
 * Volume drained by each outlet, litres. The outlets are gone through from the lowest, each searching upstream by the
 * ways with the least hump (Dijkstra with the highest place as the length of a way). A node is looked at again only
 * where an outlet reaches it over a lower hump than all lower outlets did: those have the first claim on what stands
 * higher.
 */
export function drainsOf({ zM, edges, outlets }: DrainGraph): {
  readonly volumeL: Float64Array;
  /** By outlet: the highest place whose water it lets out, metres; -Infinity where nothing drains. */
  readonly topM: Float64Array;
  readonly heldL: number;
  readonly totalL: number;
} {
  const at = edgesByNode(zM.length, edges);
  const ways: WayOut[][] = [];
  const least = new Float64Array(zM.length).fill(Infinity);
  const order = outlets
    .map(({ zM: outletM, closingM }, outlet) => ({ outlet, downToM: outletM + closingM }))
    .sort((a, b) => a.downToM - b.downToM || a.outlet - b.outlet);

  for (const { outlet, downToM } of order) {
    const { node, zM: outletM } = outlets[outlet]!;
    const heap = new Heap();
    heap.push(node, Math.max(zM[node]!, outletM));
    for (;;) {
      const next = heap.pop();
      if (next === null) break;
      const { node: v, height: overM } = next;
      if (overM >= least[v]!) continue;
      least[v] = overM;
      (ways[v] ??= []).push({ outlet, overM, downToM });
      for (let k = at.start[v]!; k < at.start[v + 1]!; k++) {
        const { a, b, onlyAToB, openM } = edges[at.list[k]!]!;
        // Upstream: water must be able to come from the other end to this one.
        if (onlyAToB && v === a) continue;
        const u = a === v ? b : a;
        const height = Math.max(overM, zM[u]!, onlyAToB ? zM[u]! + openM : -Infinity);
        if (height < least[u]!) heap.push(u, height);
      }
    }
  }

  const volumeL = new Float64Array(outlets.length);
  const topM = new Float64Array(outlets.length).fill(-Infinity);
  let totalL = 0;
  let heldL = 0;
  for (const { a, b, volumeL: volume } of edges) {
    if (volume === 0) continue;
    totalL += volume;
    const low = zM[a]! <= zM[b]! ? a : b;
    const bottom = zM[low]!;
    const rise = Math.max(zM[a]!, zM[b]!) - bottom;
    let left = 1;
    if (rise <= SAME_HEIGHT) {
      const way = (ways[low] ?? []).find(
        ({ overM, downToM }) => overM <= bottom + SAME_HEIGHT && downToM < bottom - SAME_HEIGHT,
      );
      if (way) {
        volumeL[way.outlet]! += volume;
        topM[way.outlet] = Math.max(topM[way.outlet]!, bottom);
        left = 0;
      }
    } else {
      // Lower outlets come first in the list and take what stands high enough for their hump; the next take the rest.
      let top = 1;
      for (const { outlet, overM, downToM } of ways[low] ?? []) {
        const from = Math.max(0, (Math.max(overM, downToM) - bottom) / rise);
        if (from >= top) continue;
        volumeL[outlet]! += volume * (top - from);
        topM[outlet] = Math.max(topM[outlet]!, bottom + top * rise);
        top = from;
      }
      left = top;
    }
    heldL += volume * left;
  }
  return { volumeL, topM, heldL, totalL };
}

function edgesByNode(
  count: number,
  edges: DrainGraph['edges'],
): { readonly start: Int32Array; readonly list: Int32Array } {
  const start = new Int32Array(count + 1);
  for (const { a, b } of edges) {
    start[a + 1]! += 1;
    start[b + 1]! += 1;
  }
  for (let n = 0; n < count; n++) start[n + 1]! += start[n]!;
  const fill = start.slice();
  const list = new Int32Array(2 * edges.length);
  edges.forEach(({ a, b }, i) => {
    list[fill[a]!++] = i;
    list[fill[b]!++] = i;
  });
  return { start, list };
}

/** Nodes by height, the lowest first. */
class Heap {
  private readonly nodes: number[] = [];
  private readonly heights: number[] = [];

  push(node: number, height: number): void {
    let i = this.nodes.length;
    this.nodes.push(node);
    this.heights.push(height);
    while (i > 0) {
      const up = (i - 1) >> 1;
      if (this.heights[up]! <= height) break;
      this.swap(i, up);
      i = up;
    }
  }

  pop(): { readonly node: number; readonly height: number } | null {
    const node = this.nodes[0];
    if (node === undefined) return null;
    const height = this.heights[0]!;
    const last = this.nodes.length - 1;
    this.swap(0, last);
    this.nodes.pop();
    this.heights.pop();
    for (let i = 0; ;) {
      let least = i;
      for (const child of [2 * i + 1, 2 * i + 2]) {
        if (child < last && this.heights[child]! < this.heights[least]!) least = child;
      }
      if (least === i) break;
      this.swap(i, least);
      i = least;
    }
    return { node, height };
  }

  private swap(i: number, j: number): void {
    [this.nodes[i], this.nodes[j]] = [this.nodes[j]!, this.nodes[i]!];
    [this.heights[i], this.heights[j]] = [this.heights[j]!, this.heights[i]!];
  }
}
