import { FOOT_M } from '../../../base/units.ts';
import { agree, counted, listed } from '../../wording.ts';
import { angleBetween, areParallel, leavingDeg } from './directions.ts';
import { otherEnd, type PipeGraph } from './graph.ts';
import { staysSpray } from './legs.ts';
import { inOrder } from './order.ts';
import { ringsOf } from './ways.ts';

/** How the old lateral of a zone is laid. */
export type ShapeKind = 'none' | 'single run' | 'tree' | 'comb' | 'centre-fed' | 'ring' | 'star';

export interface Shape {
  readonly kind: ShapeKind;
  /** The valve feeds what stays spray, too: heads of the lawn beside those of beds, or heads that are kept. */
  readonly mixedValve: boolean;
  /** Part of it is a guess, or heads or pipes hang on nothing. */
  readonly unknownPart: boolean;
  /** One or more sentences, with what it means for the tie-in. */
  readonly sentence: string;
}

/** Teeth of a comb run in parallel within this, and arms of a row in line, degrees (common practice). */
const PARALLEL_DEG = 20;
const FEWEST_TEETH = 3;
/** A star's manifold stands this near to the valve, along the pipe, metres: 10 ft (common practice). */
const MANIFOLD_M = 10 * FOOT_M;

/** The shape of a zone's old lateral, by what the valve reaches; where none is known, by all that is drawn. */
export function shapeOf(graph: PipeGraph): Shape {
  const [kind, sentence] = kindOf(graph);
  const spray = graph.heads.filter(staysSpray);
  const bedHeads = graph.heads.length - spray.length;
  const kept = spray.some(({ fate }) => fate === 'keep');
  const mixedValve = spray.length > 0 && (bedHeads > 0 || kept);
  const assumed = new Set(graph.edges.filter((e) => !e.measured).flatMap((e) => e.lateralIds));
  const apart = graph.source === null ? [] : graph.edges.filter(({ from }) => !graph.reached[from]);
  const unknownPart = assumed.size > 0 || apart.length > 0 || graph.looseHeads.length > 0;
  const sentences = [sentence];
  if (mixedValve) {
    sentences.push(
      `Mixed valve: it also feeds ${agree(spray.length, 'head', 'heads')} ${listed(spray.map(({ id }) => id))}, which ${agree(spray.length, 'stays', 'stay')} spray: no tie-in until the zone is split.`,
    );
  }
  if (unknownPart) {
    const parts = [
      assumed.size > 0 ? `${counted(assumed.size, 'piece')} assumed` : '',
      apart.length > 0 ? `${counted(apart.length, 'piece')} not joined to the valve` : '',
      graph.looseHeads.length > 0
        ? `${agree(graph.looseHeads.length, 'head', 'heads')} ${listed(graph.looseHeads.map(({ id }) => id).sort(inOrder))} on no pipe`
        : '',
    ].filter((part) => part !== '');
    sentences.push(`Partly unknown: ${parts.join(', ')}; tie in on the valve's side of what is not known.`);
  }
  return { kind, mixedValve, unknownPart, sentence: sentences.join(' ') };
}

function kindOf(graph: PipeGraph): [ShapeKind, string] {
  if (graph.edges.length === 0) return ['none', 'No old pipe is drawn.'];
  const source = graph.source ?? firstEnd(graph);
  const from = graph.source === null ? ' It is not known where its water comes from.' : '';
  const rings = graph.source === null ? ringsIn(graph) : ringsOf(graph);
  if (rings > 0) {
    return [
      'ring',
      `Ring: water goes ${rings === 1 ? 'round two ways' : `round ${rings} rings`}; it is opened beside the tie-in, so that all of the way is live.${from}`,
    ];
  }
  const tree = treeFrom(graph, source);
  const forks = tree.nodes.filter((n) => tree.below[n]!.length > 1);
  if (forks.length === 0) {
    return ['single run', `Single run: pipe and heads in one row from the valve to the end.${from}`];
  }
  const rays = starOf(graph, tree, forks);
  if (rays > 0) {
    return [
      'star',
      `Star: ${rays} single pipes from a manifold near the valve; tie in at the end of one ray, or at the manifold, and cut the other rays there.${from}`,
    ];
  }
  const rows = rowsOf(graph, tree, forks);
  if (rows > 0) {
    return [
      'centre-fed',
      `Centre-fed: ${counted(rows, 'row')} fed in the middle, with arms to both sides; tie in at the end of one arm and cut the other.${from}`,
    ];
  }
  const teeth = combOf(graph, tree);
  if (teeth > 0) {
    return [
      'comb',
      `Comb: a header with ${teeth} parallel teeth; tie in at the end of the header and cut the teeth at its tees.${from}`,
    ];
  }
  return [
    'tree',
    `Tree: a run with ${counted(forks.length, 'fork')}; tie in at the end of the longest branch and cut the others at their tees.${from}`,
  ];
}

function ringsIn(graph: PipeGraph): number {
  let parts = 0;
  const seen = graph.nodes.map(() => false);
  graph.nodes.forEach((_, n) => {
    if (seen[n]) return;
    parts++;
    const open = [n];
    seen[n] = true;
    while (open.length > 0) {
      const at = open.pop()!;
      for (const e of graph.nodes[at]!.edges) {
        const next = otherEnd(graph.edges[e]!, at);
        if (seen[next]) continue;
        seen[next] = true;
        open.push(next);
      }
    }
  });
  return graph.edges.length - graph.nodes.length + parts;
}

function firstEnd(graph: PipeGraph): number {
  const end = graph.nodes.findIndex(({ edges }) => edges.length === 1);
  return Math.max(0, end);
}

/** A net without rings, seen from the valve. */
interface Tree {
  readonly nodes: readonly number[];
  /** By node: pipes away from the valve, the pipe towards it (-1), and the distance from it. */
  readonly below: readonly (readonly number[])[];
  readonly above: readonly number[];
  readonly alongM: readonly number[];
}

function treeFrom(graph: PipeGraph, source: number): Tree {
  const below = graph.nodes.map((): number[] => []);
  const above = graph.nodes.map(() => -1);
  const alongM = graph.nodes.map(() => 0);
  const nodes = [source];
  for (const n of nodes) {
    for (const e of graph.nodes[n]!.edges) {
      if (e === above[n]) continue;
      const next = otherEnd(graph.edges[e]!, n);
      below[n]!.push(e);
      above[next] = e;
      alongM[next] = alongM[n]! + graph.edges[e]!.lengthM;
      nodes.push(next);
    }
  }
  return { nodes, below, above, alongM };
}

/** Whether the pipes behind one never fork. */
function isUnbranched(graph: PipeGraph, tree: Tree, node: number, e: number): boolean {
  let at = otherEnd(graph.edges[e]!, node);
  for (;;) {
    const next = tree.below[at]!;
    if (next.length > 1) return false;
    if (next.length === 0) return true;
    at = otherEnd(graph.edges[next[0]!]!, at);
  }
}

/** Rays of a star, or 0: all pipes but the feed leave from forks near the valve, and none of them forks again. */
function starOf(graph: PipeGraph, tree: Tree, forks: readonly number[]): number {
  if (forks.some((n) => tree.alongM[n]! > MANIFOLD_M)) return 0;
  const near = new Set(forks);
  let rays = 0;
  for (const n of forks) {
    for (const e of tree.below[n]!) {
      if (isUnbranched(graph, tree, n, e)) rays++;
      else if (!near.has(otherEnd(graph.edges[e]!, n)) && !leadsTo(graph, tree, n, e, near)) return 0;
    }
  }
  // Rays go different ways; a comb's teeth beside the valve do not.
  const directions = forks.flatMap((n) => tree.below[n]!.map((e) => leavingDeg(graph, n, e)));
  const spread = directions.some((p) => directions.some((q) => !areParallel(p, q, PARALLEL_DEG)));
  if (rays < 3) return 0;
  return forks.length === 1 ? (spread ? rays : 0) : nearEachOther(tree, forks) ? rays : 0;
}

/** Whether a pipe without a fork leads to one of some nodes. */
function leadsTo(graph: PipeGraph, tree: Tree, node: number, e: number, nodes: ReadonlySet<number>): boolean {
  let at = otherEnd(graph.edges[e]!, node);
  while (!nodes.has(at)) {
    const next = tree.below[at]!;
    if (next.length !== 1) return false;
    at = otherEnd(graph.edges[next[0]!]!, at);
  }
  return true;
}

/** A manifold built of tees has them within a foot or so of each other. */
function nearEachOther(tree: Tree, forks: readonly number[]): boolean {
  const along = forks.map((n) => tree.alongM[n]!).sort((a, b) => a - b);
  return along.every((m, i) => i === 0 || m - along[i - 1]! <= 2 * FOOT_M);
}

/** Rows that are fed in their middle, or 0: every fork sends two unbranched arms out in line, and at most one pipe on. */
function rowsOf(graph: PipeGraph, tree: Tree, forks: readonly number[]): number {
  let rows = 0;
  let armsM = 0;
  for (const n of forks) {
    const out = tree.below[n]!;
    const arms = out.filter((e) => isUnbranched(graph, tree, n, e));
    const rest = out.length - arms.length;
    const pair = arms.flatMap((e, i) =>
      arms
        .slice(0, i)
        .flatMap((f) =>
          angleBetween(leavingDeg(graph, n, e), leavingDeg(graph, n, f)) >= 180 - PARALLEL_DEG
            ? [[e, f] as const]
            : [],
        ),
    )[0];
    if (!pair || rest + arms.length - 2 > 1) return 0;
    rows++;
    armsM += pair.reduce((sum, e) => sum + armLengthM(graph, tree, n, e), 0) / 2;
  }
  const feederM = Math.max(...forks.map((n) => tree.alongM[n]!));
  // A fishbone has many short arms on a long header; rows are longer than what feeds them.
  return rows <= 2 || armsM / rows >= feederM ? rows : 0;
}

function armLengthM(graph: PipeGraph, tree: Tree, node: number, e: number): number {
  let at = otherEnd(graph.edges[e]!, node);
  while (tree.below[at]!.length > 0) at = otherEnd(graph.edges[tree.below[at]![0]!]!, at);
  return tree.alongM[at]! - tree.alongM[node]!;
}

/** Teeth of the way from the valve that has the most, or 0: all that leaves it is unbranched, and most of it parallel. */
function combOf(graph: PipeGraph, tree: Tree): number {
  let most = 0;
  for (const end of tree.nodes) {
    if (tree.below[end]!.length > 0) continue;
    const way = new Set<number>();
    const teeth: { deg: number; lengthM: number }[] = [];
    let isComb = true;
    for (let at = end; tree.above[at]! >= 0; at = otherEnd(graph.edges[tree.above[at]!]!, at))
      way.add(tree.above[at]!);
    for (const n of tree.nodes) {
      const onWay = n === end || tree.below[n]!.some((e) => way.has(e));
      if (!onWay) continue;
      for (const e of tree.below[n]!) {
        if (way.has(e)) continue;
        isComb &&= isUnbranched(graph, tree, n, e);
        teeth.push({ deg: leavingDeg(graph, n, e), lengthM: armLengthM(graph, tree, n, e) });
      }
    }
    if (!isComb) continue;
    for (const tooth of teeth) {
      const alike = teeth.filter(({ deg }) => areParallel(tooth.deg, deg, PARALLEL_DEG));
      const lengths = alike.map(({ lengthM }) => lengthM);
      // The header's own last stretch often turns into a tooth like the others.
      const last = lastStretch(graph, tree, end);
      const isTooth =
        areParallel(tooth.deg, last.deg, PARALLEL_DEG) &&
        last.lengthM >= 0.75 * Math.min(...lengths) &&
        last.lengthM <= 1.25 * Math.max(...lengths);
      const count = alike.length + (isTooth ? 1 : 0);
      if (count >= FEWEST_TEETH && alike.length >= 0.75 * teeth.length) most = Math.max(most, count);
    }
  }
  return most;
}

/** The way back from an end to its last bend: direction, and length on the ground. */
function lastStretch(graph: PipeGraph, tree: Tree, end: number): { deg: number; lengthM: number } {
  const first = tree.above[end]!;
  const deg = leavingDeg(graph, end, first);
  let lengthM = 0;
  for (let at = end; tree.above[at]! >= 0;) {
    const e = tree.above[at]!;
    if (angleBetween(leavingDeg(graph, at, e), deg) > PARALLEL_DEG) break;
    lengthM += graph.edges[e]!.lengthM;
    at = otherEnd(graph.edges[e]!, at);
  }
  return { deg, lengthM };
}
