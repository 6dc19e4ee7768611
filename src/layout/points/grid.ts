import { between, distance, type Point } from '../../base/point.ts';
import { Heap } from '../../base/heap.ts';
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

/** A way along the squares is at most this many times as long as the straight one: 1 / cos(22.5 degrees). */
const STEPS_OVER_STRAIGHT = 1 / Math.cos(Math.PI / 8);

/** A way round what is in the way, from tubing that is there, with its length in metres of bed. */
export interface Way {
  readonly path: readonly Point[];
  readonly worthM: number;
  /** Number of the piece of tubing at which it begins. */
  readonly piece: number;
}

/** What a way is looked for to, and the best that is known of it. */
interface Aim {
  readonly a: Point;
  readonly b: Point;
  /** Length on the grid, metres of bed, and the last square and the place on the aim. */
  gridM: number;
  cell: number;
  p: Point;
  /** Length of the way that was given out last; only a shorter one is given again. */
  givenM: number;
}

interface Box {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/**
 * Finds the cheapest ways over the ground from tubing that grows to pieces that wait: Dijkstra's method (1959) on a grid
 * of squares, whose answer is kept and only improved where new tubing comes nearer, and which spreads no further than to
 * the next piece. A way is then pulled straight as long as that makes it no longer in metres of bed. Places outside of
 * the box are taken to its edge.
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
  private readonly aims = new Map<number, Aim>();
  /** By square: the aims that it belongs to. */
  private readonly aimed = new Map<
    number,
    { readonly key: number; readonly p: Point; readonly worth: number }[]
  >();
  /** The nearest aim while ways are looked for. */
  private least = Infinity;
  private leastKey = -1;

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

  /** Looks for ways to a straight piece from now on. */
  aim(key: number, a: Point, b: Point): void {
    const one: Aim = { a, b, gridM: Infinity, cell: -1, p: a, givenM: Infinity };
    this.aims.set(key, one);
    for (const p of this.along(a, b)) {
      const cell = this.cellOf(p);
      const worth = this.ground.worth(p, this.middle(cell));
      const there = this.aimed.get(cell);
      const end = { key, p, worth };
      if (there) there.push(end);
      else this.aimed.set(cell, [end]);
      this.meet(one, cell, end, this.cost[cell]!);
    }
  }

  /** Looks for ways to it no longer. */
  drop(key: number): void {
    this.aims.delete(key);
  }

  /**
   * The piece, of those that are looked for, to which there is the cheapest way, where it is shorter on the grid than
   * any that was given of it before; `null` where none can be below `limitM` metres of bed once it is straight.
   */
  nearest(limitM: number): { readonly key: number; readonly way: Way } | null {
    // A metre more for the first and the last square.
    const mostM = (limitM + 1) * STEPS_OVER_STRAIGHT;
    this.least = mostM;
    let key = -1;
    for (const [k, { gridM, givenM }] of this.aims) {
      if (gridM < givenM - 1e-9 && gridM < this.least) [key, this.least] = [k, gridM];
    }
    this.leastKey = key;
    const { heap } = this;
    while (heap.least < this.least) {
      const cost = heap.least;
      const cell = heap.pop();
      if (cost > this.cost[cell]!) continue;
      this.spread(cell, cost);
    }
    const found = this.aims.get(this.leastKey);
    if (!found) return null;
    found.givenM = found.gridM;
    const path: Point[] = [found.p];
    let { cell } = found;
    path.push(this.middle(cell));
    while (this.from[cell]! >= 0) {
      cell = this.from[cell]!;
      path.push(this.middle(cell));
    }
    const { p, piece } = this.begins.get(cell)!;
    path.push(p);
    const straight = pulledStraight(this.ground, path.reverse());
    return {
      key: this.leastKey,
      way: { path: straight, worthM: pathWorth(this.ground, straight), piece },
    };
  }

  /** Goes on from a square to its eight neighbours. */
  private spread(cell: number, cost: number): void {
    const { columns, rows, cellM } = this;
    const x = cell % columns;
    const y = (cell - x) / columns;
    for (let k = 0; k < 2 * STEPS.length; k++) {
      // A move is kept with the square from which it goes by the step itself.
      const step = k >> 1;
      const isForth = (k & 1) === 0;
      const [stepX, stepY] = STEPS[step]!;
      const nx = isForth ? x + stepX : x - stepX;
      const ny = isForth ? y + stepY : y - stepY;
      if (nx < 0 || ny < 0 || nx >= columns || ny >= rows) continue;
      const other = ny * columns + nx;
      // Nothing is cheaper than bed, so the look at the move is often spared.
      const lengthM = step < 2 ? cellM : cellM * Math.SQRT2;
      if (cost + lengthM >= this.cost[other]!) continue;
      const slot = (isForth ? cell : other) * STEPS.length + step;
      this.reach(other, cell, cost + this.moveOf(slot, cell, other, lengthM));
    }
  }

  /** Notes that a square of an aim is reached. */
  private meet(
    one: Aim,
    cell: number,
    { p, worth }: { readonly p: Point; readonly worth: number },
    cost: number,
  ): boolean {
    if (cost + worth >= one.gridM) return false;
    one.gridM = cost + worth;
    one.cell = cell;
    one.p = p;
    return true;
  }

  /** What a move costs from a square by a step, or to it by the step back. */
  private moveOf(slot: number, cell: number, other: number, lengthM: number): number {
    const known = this.moves[slot]!;
    if (!Number.isNaN(known)) return known;
    const plain = this.plainWorth(cell);
    const worth = plain > 0 ? plain * lengthM : this.ground.worth(this.middle(cell), this.middle(other));
    this.moves[slot] = worth;
    return worth;
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
    const ends = this.aimed.get(cell);
    if (!ends) return;
    for (const end of ends) {
      const one = this.aims.get(end.key);
      if (!one || !this.meet(one, cell, end, cost)) continue;
      if (one.gridM < one.givenM - 1e-9 && one.gridM < this.least)
        [this.leastKey, this.least] = [end.key, one.gridM];
    }
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
function pulledStraight(ground: OpenGround, way: readonly Point[]): Point[] {
  const path = corners(way);
  const along = [0];
  for (let i = 1; i < path.length; i++) along.push(along[i - 1]! + ground.worth(path[i - 1]!, path[i]!));
  const kept: Point[] = [path[0]!];
  let i = 0;
  while (i + 1 < path.length) {
    let reach = i + 1;
    for (let j = i + 2; j < path.length && j - reach <= 12; j++) {
      if (ground.worth(path[i]!, path[j]!) <= along[j]! - along[i]! + 1e-9) reach = j;
    }
    i = reach;
    kept.push(path[i]!);
  }
  return kept;
}

/** The places of a way at which it turns, with its ends. */
function corners(way: readonly Point[]): Point[] {
  return way.filter((p, i) => {
    const before = way[i - 1];
    const after = way[i + 1];
    if (!before || !after) return true;
    const turn = (p[0] - before[0]) * (after[1] - p[1]) - (p[1] - before[1]) * (after[0] - p[0]);
    return Math.abs(turn) > 1e-9;
  });
}
