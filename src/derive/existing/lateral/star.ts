import { FOOT_M } from '../../../base/units.ts';
import { areParallel, leavingDeg } from './directions.ts';
import type { PipeGraph } from './graph.ts';
import { armOf, forksOf, wayBack, type Tree } from './tree.ts';

/** A manifold of few rays stands this near to the valve, along the pipe, metres: 10 ft (common practice). */
const MANIFOLD_M = 10 * FOOT_M;
/** Tees of a manifold lie this near to each other along the pipe, metres: 2 ft (common practice). */
const TEE_TO_TEE_M = 2 * FOOT_M;
/** From as many rays a joint is a manifold wherever it is; fewer are one only by the valve. */
const RAYS_ANYWHERE = 4;
const FEWEST_RAYS = 3;
/** Rays go different ways; teeth that leave a header side by side do not. Degrees. */
const PARALLEL_DEG = 20;

export interface Star {
  readonly rays: number;
  /** The last joint of the manifold. */
  readonly manifold: number;
}

/**
 * A star: single pipes with one head each from a manifold, which is one joint or some tees close together, and no head
 * before it. `null` where the net is none.
 */
export function starOf(graph: PipeGraph, tree: Tree): Star | null {
  const forks = forksOf(tree);
  const manifold = forks.at(-1);
  if (manifold === undefined) return null;
  const joints = new Set(forks);
  const feed = wayBack(graph, tree, manifold);
  if (!forks.every((n) => feed.includes(n))) return null;
  if (feed.some((n) => graph.nodes[n]!.heads.length > 0)) return null;
  const along = forks.map((n) => tree.alongM[n]!);
  if (along.some((m, i) => i > 0 && m - along[i - 1]! > TEE_TO_TEE_M)) return null;
  let rays = 0;
  for (const n of forks) {
    for (const e of tree.below[n]!) {
      const { nodes, isUnbranched } = armOf(graph, tree, n, e);
      if (!isUnbranched && joints.has(nodes.at(-1)!)) continue;
      if (nodes.reduce((sum, at) => sum + graph.nodes[at]!.heads.length, 0) > 1) return null;
      rays++;
    }
  }
  const isNear = along.at(-1)! <= MANIFOLD_M;
  if (rays < (isNear ? FEWEST_RAYS : RAYS_ANYWHERE)) return null;
  const directions = forks.flatMap((n) => tree.below[n]!.map((e) => leavingDeg(graph, n, e)));
  const spread = directions.some((p) => directions.some((q) => !areParallel(p, q, PARALLEL_DEG)));
  return forks.length > 1 || spread ? { rays, manifold } : null;
}
