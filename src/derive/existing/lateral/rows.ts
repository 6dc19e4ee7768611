import { angleBetween, leavingDeg } from './directions.ts';
import type { PipeGraph } from './graph.ts';
import { armOf, type Tree } from './tree.ts';

/** Arms of a row are in line within this, degrees (common practice). */
const IN_LINE_DEG = 20;

/** Rows that are fed in their middle, or 0: every fork sends two unbranched arms out in line, and at most one pipe on. */
export function rowsOf(graph: PipeGraph, tree: Tree, forks: readonly number[]): number {
  let rows = 0;
  let armsM = 0;
  for (const n of forks) {
    const out = tree.below[n]!;
    const arms = out.filter((e) => armOf(graph, tree, n, e).isUnbranched);
    const rest = out.length - arms.length;
    const pair = arms.flatMap((e, i) =>
      arms
        .slice(0, i)
        .flatMap((f) =>
          angleBetween(leavingDeg(graph, n, e), leavingDeg(graph, n, f)) >= 180 - IN_LINE_DEG
            ? [[e, f] as const]
            : [],
        ),
    )[0];
    if (!pair || rest + arms.length - 2 > 1) return 0;
    rows++;
    armsM += pair.reduce((sum, e) => sum + armOf(graph, tree, n, e).lengthM, 0) / 2;
  }
  const feederM = Math.max(...forks.map((n) => tree.alongM[n]!));
  // A fishbone has many short arms on a long header; rows are longer than what feeds them.
  return rows <= 2 || armsM / rows >= feederM ? rows : 0;
}
