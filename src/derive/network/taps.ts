import type { Line } from './lines.ts';
import type { Touch } from './touching.ts';
import { UnionFind } from './union-find.ts';

const SAME_TAP = 0.001;
const NO_MIDDLES: readonly number[] = [];

interface Middle {
  readonly along: number;
  readonly tap: number;
}

/**
 * Numbers for all things that can meet in one node: supplies, inlets and outlets of control sets, vertices of
 * lines, and places on their edges where something joins. Those that meet are gathered in `sets`.
 */
export class Taps {
  readonly sets: UnionFind;
  /** Places on edges by line: distance along in plan, and number. */
  private readonly middles: (Middle[] | undefined)[] = [];
  private readonly vertexBase: number[] = [];
  private readonly vertexCount: number[] = [];
  private readonly supplyCount: number;

  constructor(supplyCount: number, controlCount: number, lines: readonly Line[]) {
    this.supplyCount = supplyCount;
    let next = supplyCount + 2 * controlCount;
    for (const line of lines) {
      this.vertexBase.push(next);
      this.vertexCount.push(line.points.length);
      next += line.points.length;
    }
    this.sets = new UnionFind(next);
  }

  supply(index: number): number {
    return index;
  }
  inlet(control: number): number {
    return this.supplyCount + 2 * control;
  }
  outlet(control: number): number {
    return this.supplyCount + 2 * control + 1;
  }
  vertex(line: number, vertex: number): number {
    return this.vertexBase[line]! + vertex;
  }
  at({ line, along, vertex }: Touch): number {
    if (vertex >= 0) return this.vertex(line, vertex);
    const middles = (this.middles[line] ??= []);
    const known = middles.find((middle) => Math.abs(middle.along - along) <= SAME_TAP);
    if (known) return known.tap;
    const tap = this.sets.add();
    middles.push({ along, tap });
    return tap;
  }

  /** Distances along a line of the places on its edges where something joins, rising. Call it once all has joined. */
  middlesAlong(line: number): readonly number[] {
    const middles = this.middles[line];
    if (!middles) return NO_MIDDLES;
    middles.sort((a, b) => a.along - b.along);
    return middles.map(({ along }) => along);
  }

  /** The tap of a line that it counts as `own`: its vertices, then the places on its edges in the order of its path. */
  own(line: number, own: number): number {
    const count = this.vertexCount[line]!;
    return own < count ? this.vertex(line, own) : this.middles[line]![own - count]!.tap;
  }
}
