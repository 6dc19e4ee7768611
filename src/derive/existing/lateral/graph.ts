import type { Point } from '../../../base/point.ts';
import type { Head } from '../../../plan/records.ts';
import type { Notice } from '../../results.ts';

/** A joint of the old pipes of one zone: an end, elbow, tee, or where a head or the valve stands on a pipe. */
export interface PipeNode {
  /** Name of the pipe ends here, else of the head or valve here, else a number of our own (`N1`). */
  readonly name: string;
  /** What a tie-in here is called: the head's id where a head stands, else the name. One of a kind in its zone. */
  readonly id: string;
  readonly at: Point;
  /** Height of the pipe above the plan's datum: of the valve where typed, else of the ground less the depth. */
  readonly zM: number;
  readonly heads: readonly Head[];
  readonly supplyIds: readonly string[];
  /** Pipes that meet here, by index. */
  readonly edges: readonly number[];
}

/** Heights that water passes on the way along a pipe. */
export interface Rise {
  readonly lowM: number;
  readonly highM: number;
  /** The most that the way rises above a place behind it, metres; 0 where it never rises. */
  readonly riseM: number;
}

/** Pipe between two joints without any between. */
export interface PipeEdge {
  readonly from: number;
  readonly to: number;
  /** Records that it is part of: one, or several where pipe was drawn twice. */
  readonly lateralIds: readonly string[];
  readonly a: Point;
  readonly b: Point;
  /** On the ground. */
  readonly lengthM: number;
  /** Water in it; `null` where size or material tell no bore. */
  readonly volumeL: number | null;
  /** The same with the bore that is taken for the unknown one. */
  readonly takenVolumeL: number;
  readonly boreM: number;
  readonly roughnessM: number;
  /** As written; `null` where not known. */
  readonly material: string | null;
  readonly measured: boolean;
  readonly galvanised: boolean;
  /** From `from` to `to`: distance on the ground and height of the pipe; both change evenly between entries. */
  readonly alongM: readonly number[];
  readonly zM: readonly number[];
  readonly onward: Rise;
  readonly backward: Rise;
}

/** Part of a record between two joints, in the record's own direction. */
export interface RecordPart {
  /** Pipe that it is; -1 where it has no length to speak of. */
  readonly edge: number;
  readonly from: number;
  readonly to: number;
  readonly a: Point;
  readonly b: Point;
}

/** The old pipes of one zone as a graph. */
export interface PipeGraph {
  readonly zone: string | null;
  /** Whether levels or falls tell how the ground slopes; without them all pipe is taken as level. */
  readonly slopeKnown: boolean;
  readonly nodes: readonly PipeNode[];
  readonly edges: readonly PipeEdge[];
  /** The valve, and its joint; `null` where none is known. */
  readonly supplyId: string | null;
  readonly source: number | null;
  /** By node: whether water from the valve gets there. */
  readonly reached: readonly boolean[];
  /** Pipes that are not part of a ring. */
  readonly bridges: readonly boolean[];
  /** By the id of a record: its parts in order. */
  readonly parts: ReadonlyMap<string, readonly RecordPart[]>;
  readonly heads: readonly Head[];
  /** Heads that stand on no pipe. */
  readonly looseHeads: readonly Head[];
  readonly notices: readonly Notice[];
}

/** The node at the other end of a pipe. */
export function otherEnd(edge: PipeEdge, node: number): number {
  return edge.from === node ? edge.to : edge.from;
}

/** Heights on the way out of `node` along a pipe. */
export function riseFrom(edge: PipeEdge, node: number): Rise {
  return edge.from === node ? edge.onward : edge.backward;
}

/** The way `first` with the way `then` behind it. */
export function riseOver(first: Rise, then: Rise): Rise {
  return {
    lowM: Math.min(first.lowM, then.lowM),
    highM: Math.max(first.highM, then.highM),
    riseM: Math.max(first.riseM, then.riseM, then.highM - first.lowM),
  };
}
