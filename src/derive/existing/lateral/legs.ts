import { GALLON_L, FOOT_M } from '../../../base/units.ts';
import { LEVEL_TOLERANCE_M, type Drainer } from './draining.ts';
import type { PipeGraph } from './graph.ts';
import { staysSpray } from './stays-spray.ts';
import { swingPipes } from './swing.ts';

/**
 * Limits for pipe in which water stands. Source of all: common practice. Over `CUT_*` a leg is cut at its tee, and is
 * worth a word; over `WARN_*` it is worth a warning.
 */
export const CUT_VOLUME_L = 0.1 * GALLON_L;
export const CUT_LENGTH_M = 10 * FOOT_M;
export const WARN_VOLUME_L = 0.5 * GALLON_L;
export const WARN_LENGTH_M = 10 * FOOT_M;
export const LEG_SOURCE = 'common practice';

/** What to do with a leg; one that still feeds heads which stay has to wait for the zone to be split. */
export type LegAction = 'cut at the tee' | 'cap at the riser' | 'leave until split';

/** Where a leg lies, seen from its joint: lower pipe cannot drain, higher pipe holds air and drains back. */
export type LegLies = 'level' | 'lower' | 'higher' | 'lower and higher';

/** Old pipe that the drip's water does not pass, in one piece, as it hangs on pipe that it does. */
export interface Branch {
  readonly edges: readonly number[];
  /** Its nodes that are not live. */
  readonly nodes: readonly number[];
  /** Live nodes on which it hangs: one, or several where it closes a ring. */
  readonly joints: readonly number[];
  /** Pipe ends at those nodes: cuts that take it off. */
  readonly ends: number;
  readonly lengthM: number;
  readonly takenVolumeL: number;
  readonly action: LegAction;
  readonly drains: boolean;
}

/** What comes of the legs that hang on some live pipe. */
export interface LegSums {
  readonly cuts: number;
  /** Litres that stay full of still water after the cuts. */
  readonly stagnantL: number;
}

/** Tells of a node, and of a pipe, whether it is live. */
export interface LiveMarks {
  readonly node: (n: number) => boolean;
  readonly edge: (e: number) => boolean;
}

/** Finds the dead legs of live pipe. One finder serves all tie-ins of a graph. */
export class LegFinder {
  /** Legs on pipes that are part of no ring are the same whatever else is live. */
  private readonly remembered = new Map<number, Branch>();
  private readonly seen: Int32Array;
  private run = 0;
  private readonly staying: readonly boolean[];
  private readonly swing: ReadonlySet<number>;

  constructor(
    private readonly graph: PipeGraph,
    private readonly drainer: Drainer,
  ) {
    this.seen = new Int32Array(graph.edges.length);
    this.swing = swingPipes(graph);
    this.staying = graph.nodes.map(({ heads }) => heads.some(staysSpray));
  }

  /**
   * The legs on live nodes.
   * @param liveNodes in any order
   */
  legs(liveNodes: readonly number[], isLive: LiveMarks): Branch[] {
    this.run++;
    const legs: Branch[] = [];
    for (const node of liveNodes) {
      for (const e of this.graph.nodes[node]!.edges) {
        if (isLive.edge(e) || this.seen[e] === this.run) continue;
        legs.push(this.graph.bridges[e] ? this.hanging(node, e) : this.explore(node, e, isLive.node));
      }
    }
    return legs;
  }

  /** Cuts and still water of the same legs, without working each of them out. */
  sums(liveNodes: readonly number[], isLive: LiveMarks): LegSums {
    this.run++;
    let cuts = 0;
    let stagnantL = 0;
    for (const node of liveNodes) {
      for (const e of this.graph.nodes[node]!.edges) {
        if (isLive.edge(e) || this.seen[e] === this.run) continue;
        if (this.graph.bridges[e]) {
          const leg = this.sumsOf(node, e);
          cuts += leg.cuts;
          stagnantL += leg.stagnantL;
        } else cuts += this.endsOfArc(e, isLive.node);
      }
    }
    return { cuts, stagnantL };
  }

  /** The same of the one leg that hangs on a node by a pipe that is part of no ring. */
  sumsOf(node: number, e: number): LegSums {
    const { action, ends, takenVolumeL } = this.hanging(node, e);
    return {
      cuts: action === 'cut at the tee' ? ends : 0,
      stagnantL: action === 'cap at the riser' ? takenVolumeL : 0,
    };
  }

  /** Cuts of a leg that is part of a ring: it always hangs on live pipe by two ends or more, so it is cut at them. */
  private endsOfArc(first: number, isLive: (n: number) => boolean): number {
    let ends = 0;
    let stays = false;
    const open = [first];
    this.seen[first] = this.run;
    while (open.length > 0) {
      const edge = this.graph.edges[open.pop()!]!;
      for (const n of [edge.from, edge.to]) {
        if (isLive(n)) {
          ends++;
          continue;
        }
        stays ||= this.staying[n]!;
        for (const next of this.graph.nodes[n]!.edges) {
          if (this.seen[next] === this.run) continue;
          this.seen[next] = this.run;
          open.push(next);
        }
      }
    }
    return stays ? 0 : ends;
  }

  private hanging(node: number, e: number): Branch {
    const key = 2 * e + (this.graph.edges[e]!.from === node ? 0 : 1);
    let leg = this.remembered.get(key);
    if (!leg) {
      leg = this.explore(node, e, (n) => n === node);
      this.remembered.set(key, leg);
    }
    return leg;
  }

  private explore(start: number, first: number, isLive: (n: number) => boolean): Branch {
    const { nodes, edges } = this.graph;
    const found: number[] = [];
    const joints = new Set([start]);
    let ends = 0;
    let lengthM = 0;
    let takenVolumeL = 0;
    let stays = false;
    const visited = new Set<number>();
    const open = [first];
    this.seen[first] = this.run;
    while (open.length > 0) {
      const e = open.pop()!;
      const edge = edges[e]!;
      found.push(e);
      lengthM += edge.lengthM;
      takenVolumeL += edge.takenVolumeL;
      for (const n of [edge.from, edge.to]) {
        if (isLive(n)) {
          joints.add(n);
          ends++;
          continue;
        }
        if (visited.has(n)) continue;
        visited.add(n);
        stays ||= this.staying[n]!;
        for (const next of nodes[n]!.edges) {
          if (this.seen[next] === this.run) continue;
          this.seen[next] = this.run;
          open.push(next);
        }
      }
    }
    found.sort((a, b) => a - b);
    const sorted = [...joints].sort((a, b) => a - b);
    const { drains } = this.drainer.of(found, sorted);
    return {
      edges: found,
      nodes: [...visited].sort((a, b) => a - b),
      joints: sorted,
      ends,
      lengthM,
      takenVolumeL,
      drains,
      action: actionFor({
        ends,
        lengthM,
        takenVolumeL,
        drains,
        stays,
        isSwing: found.every((e) => this.swing.has(e)),
      }),
    };
  }
}

/**
 * A leg that closes a ring is always cut, at all its ends: the ring has to be opened there. Swing pipe under pressure
 * would pop off its barbs, so it is taken off at its saddle.
 */
function actionFor(leg: {
  readonly ends: number;
  readonly lengthM: number;
  readonly takenVolumeL: number;
  readonly drains: boolean;
  readonly stays: boolean;
  readonly isSwing: boolean;
}): LegAction {
  if (leg.stays) return 'leave until split';
  const large = leg.takenVolumeL > CUT_VOLUME_L || leg.lengthM > CUT_LENGTH_M;
  return large || leg.isSwing || !leg.drains || leg.ends > 1 ? 'cut at the tee' : 'cap at the riser';
}

/** Where a leg lies, seen from its joints. */
export function liesOf(graph: PipeGraph, leg: Branch): LegLies {
  const zM = leg.joints.map((n) => graph.nodes[n]!.zM);
  const low = Math.min(...leg.edges.map((e) => graph.edges[e]!.onward.lowM));
  const high = Math.max(...leg.edges.map((e) => graph.edges[e]!.onward.highM));
  const lower = low < Math.min(...zM) - LEVEL_TOLERANCE_M;
  const higher = high > Math.max(...zM) + LEVEL_TOLERANCE_M;
  return lower ? (higher ? 'lower and higher' : 'lower') : higher ? 'higher' : 'level';
}
