import { otherEnd, riseFrom, riseOver, type PipeGraph, type Rise } from './graph.ts';

/** Rings that are opened in every possible place; with more, each is opened where the shortest ways meet. */
export const MOST_RINGS = 4;
/** Ways that are kept in all; a net with more is treated as one with too many rings. */
const MOST_WAYS = 20_000;

/** One way along the pipes from the valve to a node, as the step onto that node. */
export interface Way {
  readonly node: number;
  /** The way one step shorter; `null` at the valve. */
  readonly before: Way | null;
  /** Pipe of the last step; -1 at the valve. */
  readonly edge: number;
  readonly steps: number;
  readonly lengthM: number;
  readonly takenVolumeL: number;
  readonly assumed: number;
  readonly galvanised: number;
  readonly rise: Rise;
}

export interface Ways {
  /** By node: all ways that pass no node twice; none for nodes that water does not reach. */
  readonly to: readonly (readonly Way[])[];
  readonly rings: number;
  /** Whether all openings of the rings are among them. */
  readonly all: boolean;
}

/** Pipes less joints, plus one, of the part that the valve feeds: how many rings it has. */
export function ringsOf(graph: PipeGraph): number {
  const edges = graph.edges.filter(({ from }) => graph.reached[from]).length;
  const nodes = graph.reached.filter(Boolean).length;
  return nodes === 0 ? 0 : edges - nodes + 1;
}

/** All ways from the valve to each node. In a ring there are two; the one that is not taken is opened. */
export function waysOf(graph: PipeGraph): Ways {
  const rings = ringsOf(graph);
  if (graph.source === null) return { to: graph.nodes.map(() => []), rings, all: true };
  if (rings <= MOST_RINGS) {
    const to = everyWay(graph, graph.source);
    if (to) return { to, rings, all: true };
  }
  return { to: shortestWays(graph, graph.source), rings, all: false };
}

function start(graph: PipeGraph, source: number): Way {
  const { zM } = graph.nodes[source]!;
  return {
    node: source,
    before: null,
    edge: -1,
    steps: 0,
    lengthM: 0,
    takenVolumeL: 0,
    assumed: 0,
    galvanised: 0,
    rise: { lowM: zM, highM: zM, riseM: 0 },
  };
}

function stepped(graph: PipeGraph, way: Way, e: number): Way {
  const edge = graph.edges[e]!;
  return {
    node: otherEnd(edge, way.node),
    before: way,
    edge: e,
    steps: way.steps + 1,
    lengthM: way.lengthM + edge.lengthM,
    takenVolumeL: way.takenVolumeL + edge.takenVolumeL,
    assumed: way.assumed + (edge.measured ? 0 : 1),
    galvanised: way.galvanised + (edge.galvanised ? 1 : 0),
    rise: riseOver(way.rise, riseFrom(edge, way.node)),
  };
}

/** Depth first, never over a node twice; `null` when there are too many. */
function everyWay(graph: PipeGraph, source: number): Way[][] | null {
  const to = graph.nodes.map((): Way[] => []);
  const passed = graph.nodes.map(() => false);
  let count = 1;
  const first = start(graph, source);
  to[source]!.push(first);
  passed[source] = true;
  const stack = [{ way: first, next: 0 }];
  while (stack.length > 0) {
    const top = stack.at(-1)!;
    const e = graph.nodes[top.way.node]!.edges[top.next++];
    if (e === undefined) {
      passed[top.way.node] = false;
      stack.pop();
      continue;
    }
    if (passed[otherEnd(graph.edges[e]!, top.way.node)]) continue;
    const way = stepped(graph, top.way, e);
    if (++count > MOST_WAYS) return null;
    to[way.node]!.push(way);
    passed[way.node] = true;
    stack.push({ way, next: 0 });
  }
  return to;
}

/** The shortest way to each node (Dijkstra 1959). */
function shortestWays(graph: PipeGraph, source: number): Way[][] {
  const best = graph.nodes.map((): Way | null => null);
  const done = graph.nodes.map(() => false);
  best[source] = start(graph, source);
  for (;;) {
    let nearest: Way | null = null;
    for (const way of best) {
      if (way && !done[way.node] && (!nearest || way.lengthM < nearest.lengthM)) nearest = way;
    }
    if (!nearest) break;
    done[nearest.node] = true;
    for (const e of graph.nodes[nearest.node]!.edges) {
      const way = stepped(graph, nearest, e);
      const known = best[way.node];
      if (!done[way.node] && (!known || way.lengthM < known.lengthM)) best[way.node] = way;
    }
  }
  return best.map((way) => (way ? [way] : []));
}

/** The steps of a way, from the valve. */
export function stepsOf(way: Way): Way[] {
  const steps: Way[] = [];
  for (let at: Way | null = way; at; at = at.before) steps.push(at);
  return steps.reverse();
}

/** The last step that two ways have in common. */
export function commonStep(a: Way, b: Way): Way {
  let [p, q] = [a, b];
  while (p.steps > q.steps) p = p.before!;
  while (q.steps > p.steps) q = q.before!;
  while (p !== q) [p, q] = [p.before!, q.before!];
  return p;
}
