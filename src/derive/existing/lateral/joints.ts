import type { Point } from '../../../base/point.ts';
import { counted } from '../../wording.ts';
import { turnAt } from './directions.ts';
import type { PipeGraph, PipeNode } from './graph.ts';

/** What joins there, the riser of a head not counted as a pipe. */
export type JointKind = 'end' | 'straight' | 'elbow' | 'tee' | 'cross' | 'manifold';

/** An end of a record, or a place on its middle, at a joint. */
export interface PipeEnd {
  readonly lateralId: string;
  readonly end: 'from' | 'to' | 'middle';
}

/** A joint of the old lateral, as it would be found when dug up. */
export interface Joint {
  /** Name of the joint, and the id of its tie-in. */
  readonly name: string;
  readonly id: string;
  readonly at: Point;
  readonly zM: number;
  readonly kind: JointKind;
  /** Pipes that meet, and heads and valves that stand on them. */
  readonly pipes: number;
  readonly heads: readonly string[];
  readonly supplies: readonly string[];
  /** End of line: at most one pipe. */
  readonly isEnd: boolean;
  /** Whether water from the valve gets there by the pipes as drawn. */
  readonly reached: boolean;
  /** In words, with what the fitting below a head shows. */
  readonly text: string;
  readonly ends: readonly PipeEnd[];
}

/** Pipes that go on at less than this turn are in one line, degrees (common practice). */
const STRAIGHT_DEG = 15;

/** The joints of a zone's old pipes. */
export function jointsOf(graph: PipeGraph): Joint[] {
  const ends = graph.nodes.map((): PipeEnd[] => []);
  for (const [lateralId, parts] of graph.parts) {
    parts.forEach(({ from, to }, i) => {
      if (i === 0) ends[from]!.push({ lateralId, end: 'from' });
      ends[to]!.push({ lateralId, end: i === parts.length - 1 ? 'to' : 'middle' });
    });
  }
  return graph.nodes.map((node, n) => {
    const kind = kindOf(graph, node, n);
    return {
      name: node.name,
      id: node.id,
      at: node.at,
      zM: node.zM,
      kind,
      pipes: node.edges.length,
      heads: node.heads.map(({ id }) => id),
      supplies: node.supplyIds,
      isEnd: node.edges.length <= 1,
      reached: graph.reached[n]!,
      text: textOf(node, kind),
      ends: ends[n]!,
    };
  });
}

function kindOf(graph: PipeGraph, node: PipeNode, n: number): JointKind {
  switch (node.edges.length) {
    case 0:
    case 1:
      return 'end';
    case 2:
      return turnAt(graph, n, node.edges[0]!, node.edges[1]!) < STRAIGHT_DEG ? 'straight' : 'elbow';
    case 3:
      return 'tee';
    case 4:
      return 'cross';
    default:
      return 'manifold';
  }
}

/** A fitting at a head tells what the pipe does there: its riser takes one mouth of it. */
function textOf({ heads, supplyIds, edges }: PipeNode, kind: JointKind): string {
  const pipes = edges.length;
  if (supplyIds.length > 0) return pipes === 0 ? 'valve without a pipe' : `valve, ${counted(pipes, 'pipe')}`;
  if (heads.length === 0) {
    const plain: Record<JointKind, string> = {
      end: 'end of a pipe',
      straight: 'joint in a straight run',
      elbow: 'elbow',
      tee: 'tee',
      cross: 'cross',
      manifold: `joint of ${pipes} pipes`,
    };
    return plain[kind];
  }
  if (pipes === 0) return 'head without a pipe';
  if (pipes === 1) return 'elbow at a head, end of line';
  if (pipes === 2) {
    return kind === 'elbow' ? 'tee at a head, pass-through round a corner' : 'tee at a head, pass-through';
  }
  return pipes === 3 ? 'cross at a head, or two tees: a branch' : `joint of ${pipes} pipes at a head`;
}
