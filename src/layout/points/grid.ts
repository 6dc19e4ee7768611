import { between, distance, type Point } from '../../base/point.ts';
import { pathWorth, type OpenGround } from './open-ground.ts';

/** Squares of the search grid, metres, and how many of them there may be. */
const CELL_M = 0.25;
const MOST_CELLS = 60_000;
/** The four sides and corners whose moves are kept; the other four are the same moves from the other square. */
const STEPS: readonly (readonly [dx: number, dy: number])[] = [
  [1, 0],
  [0, 1],
  [1, 1],
  [-1, 1],
];

/** A way round what is in the way, from tubing that is there, with its length in metres of bed. */
export interface Way {
  readonly path: readonly Point[];
  readonly worthM: number;
  /** The same on the grid, before it was pulled straight. */
  readonly gridM: number;
  /** Number of the piece of tubing at which it begins. */
  readonly piece: number;
}

interface Box {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/**
 * Finds the cheapest way over the ground from tubing that grows: Dijkstra's method (1959) on a grid of squares, whose
 * answer is kept and only improved where new tubing comes nearer. A way is then pulled straight as long as that
 * makes it no longer in metres of bed. Places outside of the box are taken to its edge.
 */
export class WayFinder {
  private readonly columns: number;
  private readonly rows: number;
  private readonly cellM: number;
  /** By square and step; NaN while it is not known. */
  private readonly moves: Float64Array;
  /** By square: what a metre is worth about it; 0 where an edge is near, NaN while it is not known. */
  private readonly perMetre: Float64Array;
  private readonly cost: Float64Array;
  /** The square before on the way from the tubing; -1 where the way begins. */
  private readonly from: Int32Array;
  private readonly begins = new Map<number, { readonly p: Point; readonly piece: number }>();
  private readonly heap = new Heap();

  /**
   * @param shared a finder for the same ground and box whose looked-up moves are used further
   */
  constructor(
    private readonly ground: OpenGround,
    private readonly box: Box,
    shared: WayFinder | null = null,
  ) {
    const width = Math.max(box.maxX - box.minX, CELL_M);
    const height = Math.max(box.maxY - box.minY, CELL_M);
    this.cellM = Math.max(CELL_M, Math.sqrt((width * height) / MOST_CELLS), (width + height) / MOST_CELLS);
    this.columns = Math.ceil(width / this.cellM) + 1;
    this.rows = Math.ceil(height / this.cellM) + 1;
    const count = this.columns * this.rows;
    this.moves = shared?.moves ?? new Float64Array(count * STEPS.length).fill(Number.NaN);
    this.perMetre = shared?.perMetre ?? new Float64Array(count).fill(Number.NaN);
    this.cost = new Float64Array(count).fill(Infinity);
    this.from = new Int32Array(count).fill(-1);
  }

  /** Takes a straight piece of tubing into account. */
  grow(a: Point, b: Point, piece: number): void {
    for (const p of this.along(a, b)) {
      const cell = this.cellOf(p);
      const worth = this.ground.worth(p, this.middle(cell));
      if (worth >= this.cost[cell]!) continue;
      this.begins.set(cell, { p, piece });
      this.reach(cell, -1, worth);
    }
  }

  /**
   * The cheapest way to the straight piece a-b, below `limitM` metres of bed and on the grid below `gridLimitM`; `null`
   * where there is none.
   */
  find(a: Point, b: Point, limitM: number, gridLimitM: number): Way | null {
    this.flood();
    let best: { readonly cell: number; readonly p: Point; readonly worth: number } | null = null;
    for (const p of this.along(a, b)) {
      const cell = this.cellOf(p);
      const known = this.cost[cell]!;
      if (known >= (best?.worth ?? gridLimitM)) continue;
      const worth = known + this.ground.worth(p, this.middle(cell));
      if (worth < (best?.worth ?? gridLimitM)) best = { cell, p, worth };
    }
    if (!best) return null;
    const path: Point[] = [best.p];
    let cell = best.cell;
    path.push(this.middle(cell));
    while (this.from[cell]! >= 0) {
      cell = this.from[cell]!;
      path.push(this.middle(cell));
    }
    const { p, piece } = this.begins.get(cell)!;
    path.push(p);
    const straight = pulledStraight(this.ground, path.reverse());
    const worthM = pathWorth(this.ground, straight);
    return worthM < limitM ? { path: straight, worthM, gridM: best.worth, piece } : null;
  }

  private flood(): void {
    for (let next = this.heap.pop(); next; next = this.heap.pop()) {
      const { cell, key } = next;
      if (key > this.cost[cell]!) continue;
      const x = cell % this.columns;
      const y = (cell - x) / this.columns;
      STEPS.forEach(([dx, dy], step) => {
        this.step(cell, x, y, dx, dy, step, key);
        this.step(cell, x, y, -dx, -dy, step, key);
      });
    }
  }

  private step(cell: number, x: number, y: number, dx: number, dy: number, step: number, key: number): void {
    const nx = x + dx;
    const ny = y + dy;
    if (nx < 0 || ny < 0 || nx >= this.columns || ny >= this.rows) return;
    const other = ny * this.columns + nx;
    // A move is kept with the square from which it goes by the step itself.
    const isForth = dx === STEPS[step]![0] && dy === STEPS[step]![1];
    const slot = (isForth ? cell : other) * STEPS.length + step;
    if (Number.isNaN(this.moves[slot]!)) {
      const plain = this.plainWorth(cell);
      const length = dx !== 0 && dy !== 0 ? this.cellM * Math.SQRT2 : this.cellM;
      this.moves[slot] =
        plain > 0 ? plain * length : this.ground.worth(this.middle(cell), this.middle(other));
    }
    this.reach(other, cell, key + this.moves[slot]!);
  }

  private plainWorth(cell: number): number {
    const known = this.perMetre[cell]!;
    if (!Number.isNaN(known)) return known;
    const p = this.middle(cell);
    const plain = this.ground.edgeWithin(p, this.cellM * 1.5) ? 0 : this.ground.perMetre(p);
    this.perMetre[cell] = plain;
    return plain;
  }

  private reach(cell: number, from: number, cost: number): void {
    if (cost >= this.cost[cell]!) return;
    this.cost[cell] = cost;
    this.from[cell] = from;
    this.heap.push(cell, cost);
  }

  private middle(cell: number): Point {
    const x = cell % this.columns;
    const y = (cell - x) / this.columns;
    return [this.box.minX + x * this.cellM, this.box.minY + y * this.cellM];
  }

  private cellOf(p: Point): number {
    const x = Math.min(this.columns - 1, Math.max(0, Math.round((p[0] - this.box.minX) / this.cellM)));
    const y = Math.min(this.rows - 1, Math.max(0, Math.round((p[1] - this.box.minY) / this.cellM)));
    return y * this.columns + x;
  }

  private along(a: Point, b: Point): Point[] {
    const pieces = Math.max(1, Math.ceil(distance(a, b) / this.cellM));
    return Array.from({ length: pieces + 1 }, (_, i) => between(a, b, i / pieces));
  }
}

/** Leaves out corners of a way as long as it grows no longer in metres of bed. */
function pulledStraight(ground: OpenGround, path: readonly Point[]): Point[] {
  const kept: Point[] = [path[0]!];
  let i = 0;
  while (i + 1 < path.length) {
    let worth = ground.worth(path[i]!, path[i + 1]!);
    let reach = i + 1;
    for (let j = i + 2; j < path.length && j <= i + 400; j++) {
      worth += ground.worth(path[j - 1]!, path[j]!);
      if (ground.worth(path[i]!, path[j]!) <= worth + 1e-9) reach = j;
      else if (j - reach > 12) break;
    }
    i = reach;
    kept.push(path[i]!);
  }
  return kept;
}

/** Smallest first; of equal keys the smaller square, so that the answer never depends on the order of insertion. */
class Heap {
  private readonly items: { readonly cell: number; readonly key: number }[] = [];

  push(cell: number, key: number): void {
    const { items } = this;
    items.push({ cell, key });
    let i = items.length - 1;
    while (i > 0) {
      const up = (i - 1) >> 1;
      if (!before(items[i]!, items[up]!)) break;
      [items[i], items[up]] = [items[up]!, items[i]!];
      i = up;
    }
  }

  pop(): { readonly cell: number; readonly key: number } | null {
    const { items } = this;
    const top = items[0];
    if (!top) return null;
    const last = items.pop()!;
    if (items.length === 0) return top;
    items[0] = last;
    let i = 0;
    for (;;) {
      const left = 2 * i + 1;
      if (left >= items.length) return top;
      const right = left + 1;
      const child = right < items.length && before(items[right]!, items[left]!) ? right : left;
      if (!before(items[child]!, items[i]!)) return top;
      [items[i], items[child]] = [items[child]!, items[i]!];
      i = child;
    }
  }
}

function before(
  a: { readonly cell: number; readonly key: number },
  b: { readonly cell: number; readonly key: number },
): boolean {
  return a.key < b.key || (a.key === b.key && a.cell < b.cell);
}
