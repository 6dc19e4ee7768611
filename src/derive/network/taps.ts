import type { Line } from './lines.ts';
import type { Touch } from './touching.ts';
import { UnionFind } from './union-find.ts';

const SAME_TAP = 0.001;

/**
 * Numbers for all things that can meet in one node: supplies, inlets and outlets of control sets, vertices of
 * lines, and places on their edges where something joins. Those that meet are gathered in `sets`.
 */
export class Taps {
  readonly sets: UnionFind;
  /** Places on edges by line: distance along in plan, and number. */
  readonly middles: { readonly along: number; readonly tap: number }[][];
  private readonly vertexBase: number[] = [];
  private readonly supplyCount: number;

  constructor(supplyCount: number, controlCount: number, lines: readonly Line[]) {
    this.supplyCount = supplyCount;
    let next = supplyCount + 2 * controlCount;
    for (const line of lines) {
      this.vertexBase.push(next);
      next += line.points.length;
    }
    this.sets = new UnionFind(next);
    this.middles = lines.map(() => []);
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
    const middles = this.middles[line]!;
    const known = middles.find((middle) => Math.abs(middle.along - along) <= SAME_TAP);
    if (known) return known.tap;
    const tap = this.sets.add();
    middles.push({ along, tap });
    return tap;
  }
}
