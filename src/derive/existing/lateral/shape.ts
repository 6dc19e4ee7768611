import { agree, counted, listed } from '../../wording.ts';
import { combOf } from './comb.ts';
import { otherEnd, type PipeGraph } from './graph.ts';
import { inOrder } from './order.ts';
import { rowsOf } from './rows.ts';
import { starOf } from './star.ts';
import { staysSpray } from './stays-spray.ts';
import { swingPipes } from './swing.ts';
import { forksOf, treeFrom } from './tree.ts';
import { ringsOf } from './ways.ts';

/** How the old lateral of a zone is laid. */
export type ShapeKind =
  'none' | 'single run' | 'tree' | 'comb' | 'centre-fed' | 'ring' | 'star' | 'daisy chain';

export interface Shape {
  readonly kind: ShapeKind;
  /** The valve feeds what stays spray, too: heads of the lawn beside those of beds, or heads that are kept. */
  readonly mixedValve: boolean;
  /** Part of it is a guess, or heads or pipes hang on nothing. */
  readonly unknownPart: boolean;
  /** One or more sentences, with what it means for the tie-in. */
  readonly sentence: string;
}

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
  const star = starOf(graph, treeFrom(graph, source));
  if (star) {
    return [
      'star',
      `Star: ${star.rays} single pipes, one to a head, from a manifold; tie in at the manifold and cut the rays there, which are too small to share.${from}`,
    ];
  }
  const swing = swingPipes(graph);
  const tree = treeFrom(graph, source, swing);
  const forks = forksOf(tree);
  const swung = swing.size > 0 ? ' Heads hang on swing pipe, which is taken off at its saddle.' : '';
  if (forks.length === 0) {
    return swing.size > 1
      ? [
          'daisy chain',
          `Daisy chain: heads on swing pipe along one run; tie in at the last saddle, its swing pipe taken off.${from}`,
        ]
      : ['single run', `Single run: pipe and heads in one row from the valve to the end.${swung}${from}`];
  }
  const rows = rowsOf(graph, tree, forks);
  if (rows > 0) {
    return [
      'centre-fed',
      `Centre-fed: ${counted(rows, 'row')} fed in the middle, with arms to both sides; tie in at the end of one arm and cut the other.${swung}${from}`,
    ];
  }
  const comb = combOf(graph, tree);
  if (comb) {
    return [
      'comb',
      `Comb: a header with ${comb.teeth} parallel teeth; tie in at the end of the header and cut the teeth at its tees.${swung}${from}`,
    ];
  }
  return [
    'tree',
    `Tree: a run with ${counted(forks.length, 'fork')}; tie in at the end of the longest branch and cut the others at their tees.${swung}${from}`,
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
