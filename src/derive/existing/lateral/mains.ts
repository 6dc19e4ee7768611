import { otherEnd, type PipeGraph } from './graph.ts';
import { combOf } from './comb.ts';
import { staysSpray } from './stays-spray.ts';
import { rowsOf } from './rows.ts';
import { starOf } from './star.ts';
import { swingPipes } from './swing.ts';
import { forksOf, treeFrom, wayBack, type Tree } from './tree.ts';
import { ringsOf } from './ways.ts';

/** Pipe that is left behind at its tee whatever the litres say: no drip begins on it. */
export type SpurKind = 'tooth' | 'ray' | 'swing pipe' | 'pipe of sprays';

/** A node that lies on such pipe. */
export interface Spur {
  readonly kind: SpurKind;
  /** Water between the main pipe and the node, litres, with the bore taken where none is known. */
  readonly takenL: number;
}

/** What of a zone's old pipe is main pipe. */
export interface Mains {
  /** By node; `null` on the main pipe. */
  readonly spurs: readonly (Spur | null)[];
  /** Nodes that are an end of line once the spurs are off, and what they are called. */
  readonly ends: ReadonlyMap<number, string>;
}

/**
 * Tells main pipe from spurs (common practice, by how the pipe is laid): teeth of a comb go uphill and are cut at the
 * header, rays of a star are too small to share, swing pipe is thin and pops off, and pipe to nothing but heads that
 * stay sprays goes with them when the zone is split. Seen from the valve; without one only swing pipe is told, and
 * where there are rings neither teeth nor rays.
 */
export function mainsOf(graph: PipeGraph): Mains {
  const known = remembered.get(graph);
  if (known) return known;
  const made = compute(graph);
  remembered.set(graph, made);
  return made;
}
const remembered = new WeakMap<PipeGraph, Mains>();

function compute(graph: PipeGraph): Mains {
  const spurs = graph.nodes.map((): Spur | null => null);
  const ends = new Map<number, string>();
  const swing = swingPipes(graph);
  for (const e of swing) {
    const { from, to, takenVolumeL } = graph.edges[e]!;
    const isAt = graph.nodes[from]!.edges.length === 1 ? from : to;
    spurs[isAt] = { kind: 'swing pipe', takenL: takenVolumeL };
    const saddle = otherEnd(graph.edges[e]!, isAt);
    if (graph.nodes[saddle]!.edges.filter((other) => !swing.has(other)).length === 1) {
      ends.set(saddle, 'last saddle');
    }
  }
  const { source } = graph;
  if (source === null) return { spurs, ends };
  const hasRings = ringsOf(graph) > 0;
  if (hasRings) {
    // Where a ring is opened both sides of the cut are ends of line.
    graph.nodes.forEach(({ edges }, n) => {
      if (edges.length === 2 && edges.every((e) => !graph.bridges[e])) ends.set(n, 'end of the opened ring');
    });
  }
  ends.delete(source);
  if (hasRings) {
    markSprays(graph, null, spurs);
    return { spurs, ends };
  }
  const whole = treeFrom(graph, source);
  const star = starOf(graph, whole);
  if (star) {
    markOff(graph, whole, new Set(wayBack(graph, whole, star.manifold)), 'ray', spurs);
    markSprays(graph, whole, spurs);
    return { spurs, ends: new Map([[star.manifold, 'manifold']]) };
  }
  const tree = treeFrom(graph, source, swing);
  const comb = rowsOf(graph, tree, forksOf(tree)) > 0 ? null : combOf(graph, tree);
  if (comb) {
    markOff(graph, tree, new Set(comb.header), 'tooth', spurs);
    ends.set(comb.header[0]!, 'end of the header');
    for (const e of swing) addTooth(graph, e, spurs);
  }
  markSprays(graph, whole, spurs);
  return { spurs, ends };
}

/**
 * Marks nodes with heads that stay sprays and no others, there and behind them.
 * @param tree the net as seen from the valve; `null` where rings leave nothing behind anything
 */
function markSprays(graph: PipeGraph, tree: Tree | null, spurs: (Spur | null)[]): void {
  const all = graph.nodes.map(({ heads }) => heads.length);
  const staying = graph.nodes.map(({ heads }) => heads.filter(staysSpray).length);
  for (const n of [...(tree?.nodes ?? [])].reverse()) {
    const above = tree!.above[n]!;
    if (above < 0) continue;
    const before = otherEnd(graph.edges[above]!, n);
    all[before]! += all[n]!;
    staying[before]! += staying[n]!;
  }
  graph.nodes.forEach((_, n) => {
    if (n === graph.source || all[n] === 0 || staying[n] !== all[n]) return;
    spurs[n] = { kind: 'pipe of sprays', takenL: 0 };
  });
}

/** Swing pipe on a tooth: what is between it and the header counts with it. */
function addTooth(graph: PipeGraph, e: number, spurs: (Spur | null)[]): void {
  const { from, to } = graph.edges[e]!;
  const [head, saddle] = graph.nodes[from]!.edges.length === 1 ? [from, to] : [to, from];
  const [own, tooth] = [spurs[head], spurs[saddle]];
  if (own && tooth) spurs[head] = { ...own, takenL: own.takenL + tooth.takenL };
}

/** Marks all that lies off a way from the valve. */
function markOff(
  graph: PipeGraph,
  tree: Tree,
  way: ReadonlySet<number>,
  kind: SpurKind,
  spurs: (Spur | null)[],
): void {
  for (const n of tree.nodes) {
    const above = tree.above[n]!;
    if (way.has(n) || above < 0) continue;
    const before = otherEnd(graph.edges[above]!, n);
    const takenL = (way.has(before) ? 0 : spurs[before]!.takenL) + graph.edges[above]!.takenVolumeL;
    spurs[n] = { kind, takenL };
  }
}
