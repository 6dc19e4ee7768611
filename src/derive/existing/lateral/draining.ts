import { otherEnd, riseFrom, type PipeGraph } from './graph.ts';

/** A way that rises no more than this counts as level or falling: no level is read finer, metres. */
export const LEVEL_TOLERANCE_M = 0.01;

export interface Draining {
  /** All water runs out by gravity. */
  readonly drains: boolean;
  /** Water that stays behind rises of the way, litres; with the bore taken where it is not known. */
  readonly trappedL: number;
}

/**
 * What runs out of pipes by gravity through open ends, and what stays. Water at a place runs out where the way to one
 * of the openings never rises above that place by more than 10 mm; of several ways the one with the lowest ridge
 * counts. One drainer serves all questions about a graph.
 */
export class Drainer {
  private readonly mark: Int32Array;
  private run = 0;
  /** Height of the lowest ridge between a node and an opening. */
  private readonly ridgeM: Float64Array;
  private readonly nodeMark: Int32Array;
  private scratch = new Float64Array(16);

  constructor(private readonly graph: PipeGraph) {
    this.mark = new Int32Array(graph.edges.length);
    this.ridgeM = new Float64Array(graph.nodes.length);
    this.nodeMark = new Int32Array(graph.nodes.length);
  }

  /**
   * By node: height of the lowest ridge on the way to an opening; infinite where there is no way.
   * @param edges pipes full of water, by index
   * @param outlets nodes that are open
   */
  ridges(edges: readonly number[], outlets: readonly number[]): (node: number) => number {
    this.run++;
    for (const e of edges) this.mark[e] = this.run;
    this.findRidges(outlets);
    return (node) => this.ridgeAt(node);
  }

  /** What runs out of some pipes; parameters as those of `ridges`. */
  of(edges: readonly number[], outlets: readonly number[]): Draining {
    this.ridges(edges, outlets);
    let highestM = -Infinity;
    let trappedL = 0;
    for (const e of edges) {
      const edge = this.graph.edges[e]!;
      const { zM, alongM } = edge;
      const last = zM.length - 1;
      if (this.scratch.length <= last) this.scratch = new Float64Array(2 * last + 2);
      // The ridge from each entry towards `to`, then along the pipe that from each entry towards `from`.
      let ridge = this.ridgeAt(edge.to);
      for (let i = last; i > 0; i--) {
        ridge = Math.max(ridge, zM[i]!);
        this.scratch[i] = ridge;
      }
      ridge = this.ridgeAt(edge.from);
      for (let i = 0; i < last; i++) {
        ridge = Math.max(ridge, zM[i]!);
        const level = Math.min(ridge, this.scratch[i + 1]!) - LEVEL_TOLERANCE_M;
        const low = Math.min(zM[i]!, zM[i + 1]!);
        const high = Math.max(zM[i]!, zM[i + 1]!);
        highestM = Math.max(highestM, level - low);
        if (!(low < level)) continue;
        const share = high <= level ? 1 : (level - low) / (high - low);
        trappedL += (edge.takenVolumeL * share * (alongM[i + 1]! - alongM[i]!)) / edge.lengthM;
      }
    }
    const drains = highestM <= 1e-9;
    return { drains, trappedL: drains ? 0 : trappedL };
  }

  private ridgeAt(node: number): number {
    return this.nodeMark[node] === this.run ? this.ridgeM[node]! : Infinity;
  }

  /** Search outward from the openings until no ridge gets lower. */
  private findRidges(outlets: readonly number[]): void {
    const open: number[] = [];
    const reach = (node: number, height: number): void => {
      if (height >= this.ridgeAt(node)) return;
      this.nodeMark[node] = this.run;
      this.ridgeM[node] = height;
      open.push(node);
    };
    for (const node of outlets) reach(node, this.graph.nodes[node]!.zM);
    while (open.length > 0) {
      const node = open.pop()!;
      for (const e of this.graph.nodes[node]!.edges) {
        if (this.mark[e] !== this.run) continue;
        const edge = this.graph.edges[e]!;
        reach(otherEnd(edge, node), Math.max(this.ridgeM[node]!, riseFrom(edge, node).highM));
      }
    }
  }
}
