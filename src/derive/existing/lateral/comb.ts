import { areParallel, leavingDeg } from './directions.ts';
import type { PipeGraph } from './graph.ts';
import { armOf, lastStretch, wayBack, type Tree } from './tree.ts';

/** Teeth of a comb run in parallel within this, degrees (common practice). */
const PARALLEL_DEG = 20;
const FEWEST_TEETH = 3;

export interface Comb {
  readonly teeth: number;
  /** From its end to the valve. */
  readonly header: readonly number[];
}

/**
 * The comb with the most teeth: a way from the valve off which all goes unbranched, and most of it in parallel. The
 * header ends where its own last stretch turns into a tooth like the others. `null` where there is none.
 */
export function combOf(graph: PipeGraph, tree: Tree): Comb | null {
  let most: Comb | null = null;
  for (const end of tree.nodes) {
    if (tree.below[end]!.length > 0) continue;
    const found = combTo(graph, tree, end);
    if (found && (!most || found.teeth > most.teeth)) most = found;
  }
  return most;
}

function combTo(graph: PipeGraph, tree: Tree, end: number): Comb | null {
  const way = wayBack(graph, tree, end);
  const onWay = new Set(way);
  const teeth: { readonly deg: number; readonly lengthM: number }[] = [];
  for (const n of way) {
    for (const e of tree.below[n]!) {
      const { nodes, isUnbranched, lengthM } = armOf(graph, tree, n, e);
      if (onWay.has(nodes[0]!)) continue;
      if (!isUnbranched) return null;
      teeth.push({ deg: leavingDeg(graph, n, e), lengthM });
    }
  }
  let best: Comb | null = null;
  for (const tooth of teeth) {
    const alike = teeth.filter(({ deg }) => areParallel(tooth.deg, deg, PARALLEL_DEG));
    const lengths = alike.map(({ lengthM }) => lengthM);
    const last = lastStretch(graph, tree, end, PARALLEL_DEG);
    const isTooth =
      areParallel(tooth.deg, last.deg, PARALLEL_DEG) &&
      last.lengthM >= 0.75 * Math.min(...lengths) &&
      last.lengthM <= 1.25 * Math.max(...lengths);
    const count = alike.length + (isTooth ? 1 : 0);
    if (count < FEWEST_TEETH || alike.length < 0.75 * teeth.length) continue;
    if (best && best.teeth >= count) continue;
    best = { teeth: count, header: isTooth ? way.slice(way.indexOf(last.start)) : way };
  }
  return best;
}
