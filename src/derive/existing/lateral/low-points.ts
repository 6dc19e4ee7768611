import { LEVEL_TOLERANCE_M, type Drainer } from './draining.ts';
import { otherEnd, type PipeGraph } from './graph.ts';

/** A dip of old pipe in which water stands until it is let out there. */
export interface LowPoint {
  /** The joint there; of a dip between two joints both. */
  readonly nodes: readonly number[];
  readonly zM: number;
}

/**
 * The dips of some pipes from which water cannot run to an opening, lowest first, each level stretch once.
 * @param edges pipes full of water, by index
 * @param outlets nodes that are open
 */
export function lowPoints(
  graph: PipeGraph,
  drainer: Drainer,
  edges: readonly number[],
  outlets: readonly number[],
): LowPoint[] {
  const ridge = drainer.ridges(edges, outlets);
  const own = new Set(edges);
  const found: LowPoint[] = [];
  for (const e of edges) {
    const { from, to, zM } = graph.edges[e]!;
    for (let i = 1; i < zM.length - 1; i++) {
      const z = zM[i]!;
      // Of a level bottom the first place counts; one that ends level belongs to the joint.
      const next = zM.slice(i + 1).find((other) => Math.abs(other - z) > FLAT_M);
      if (!(z < zM[i - 1]! - FLAT_M) || next === undefined || next < z) continue;
      const back = Math.max(ridge(from), ...zM.slice(0, i));
      const onward = Math.max(ridge(to), ...zM.slice(i + 1));
      if (Math.min(back, onward) - z > LEVEL_TOLERANCE_M + 1e-9) found.push({ nodes: [from, to], zM: z });
    }
  }
  const seen = new Set<number>();
  for (const start of new Set(edges.flatMap((e) => [graph.edges[e]!.from, graph.edges[e]!.to]))) {
    if (seen.has(start)) continue;
    const { zM } = graph.nodes[start]!;
    let isLow = true;
    const level = [start];
    seen.add(start);
    for (const n of level) {
      for (const e of graph.nodes[n]!.edges) {
        if (!own.has(e)) continue;
        const next = otherEnd(graph.edges[e]!, n);
        if (graph.edges[e]!.onward.lowM < zM - FLAT_M) isLow = false;
        else if (Math.abs(graph.nodes[next]!.zM - zM) <= FLAT_M && !seen.has(next)) {
          seen.add(next);
          level.push(next);
        }
      }
    }
    if (isLow && ridge(start) - zM > LEVEL_TOLERANCE_M + 1e-9) found.push({ nodes: [start], zM });
  }
  return found.sort((a, b) => a.zM - b.zM);
}

/** Heights that differ by less are those of one level stretch, metres. */
const FLAT_M = 1e-6;
