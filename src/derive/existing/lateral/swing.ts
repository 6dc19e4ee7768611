import { FOOT_M } from '../../../base/units.ts';
import { otherEnd, type PipeGraph } from './graph.ts';

/** Swing pipe from a saddle to its head is 1 to 4 ft long (common practice), metres; and a hair. */
const SWING_M = 4 * FOOT_M + 1e-6;
/** Without a word for it, short narrow ends are swing pipe where so many of the heads hang on them. */
const FEWEST = 3;
const SHARE = 2 / 3;

const NAMED = /\bswing\b|\bflex(?:ible)?\b/i;

/**
 * Swing pipe of a zone: pieces that end in a head, and are called so; or are short and narrower than what they hang
 * on, as most heads of the zone have them. It is too thin to share and pops off its barbs, so drip never begins there.
 */
export function swingPipes(graph: PipeGraph): ReadonlySet<number> {
  const named: number[] = [];
  const short: number[] = [];
  graph.nodes.forEach((node, n) => {
    const [e, more] = node.edges;
    if (node.heads.length === 0 || e === undefined || more !== undefined || n === graph.source) return;
    const edge = graph.edges[e]!;
    const beside = graph.nodes[otherEnd(edge, n)]!.edges.filter((other) => other !== e);
    if (beside.length === 0) return;
    if (edge.material !== null && NAMED.test(edge.material)) named.push(e);
    const narrower = edge.boreM < Math.max(...beside.map((other) => graph.edges[other]!.boreM)) - 1e-6;
    if (edge.lengthM <= SWING_M && narrower) short.push(e);
  });
  const most =
    short.length >= FEWEST && short.length >= SHARE * (graph.heads.length - graph.looseHeads.length);
  return new Set(most ? [...named, ...short] : named);
}
