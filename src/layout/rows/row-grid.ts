import type { Region } from '../../base/clip.ts';
import { between, boxOf, distance, type Point } from '../../base/point.ts';
import type { Ground } from '../../derive/ground/index.ts';
import { cutterOf } from './cut-line.ts';

/** A net of triangles over a region and a little beyond, with the ground's height at its nodes. */
export interface RowGrid {
  readonly nodes: readonly Point[];
  readonly zM: Float64Array;
  /** Three nodes for each triangle, counter-clockwise. */
  readonly triangles: Int32Array;
  /** Rise per metre east and north by node of each triangle: the gradient of a value f is the sum of f times these. */
  readonly east: Float64Array;
  readonly north: Float64Array;
  /** Length of the sides along the axes, metres. */
  readonly cellM: number;
  /** Whether the middle of a triangle lies in the region. */
  readonly inside: Uint8Array;
}

/** About so many nodes at most: rows are found where the ground bends over metres, not over inches. */
const MOST_NODES = 6000;

/** @param cellM finest length of a cell, metres */
export function rowGrid(region: Region, ground: Ground, cellM: number): RowGrid | null {
  const box = boxOf(region.flat());
  if (!box) return null;
  const [width, height] = [box.maxX - box.minX, box.maxY - box.minY];
  const h = Math.max(cellM, Math.sqrt((width * height) / MOST_NODES), Math.max(width, height) / 2000);
  const [columns, rows] = [Math.ceil(width / h) + 4, Math.ceil(height / h) + 4];
  const origin: Point = [box.minX - 2 * h, box.minY - 2 * h];
  const cutter = cutterOf(region);
  const active = new Uint8Array(columns * rows);
  const cellAt = ([x, y]: Point): number =>
    Math.floor((y - origin[1]) / h) * columns + Math.floor((x - origin[0]) / h);
  const seen: number[] = [];
  const mark = (cell: number): void => {
    if (active[cell]) return;
    active[cell] = 1;
    seen.push(cell);
  };
  for (const ring of region)
    ring.forEach((a, i) => {
      const b = ring[(i + 1) % ring.length]!;
      const steps = Math.max(1, Math.ceil((2 * distance(a, b)) / h));
      for (let k = 0; k < steps; k++) mark(cellAt(between(a, b, k / steps)));
    });
  for (let cell = 0; cell < active.length; cell++) {
    const [i, j] = [cell % columns, Math.floor(cell / columns)];
    if (cutter.contains([origin[0] + (i + 0.5) * h, origin[1] + (j + 0.5) * h])) mark(cell);
  }
  // A cell more all round, so that lines begin beyond the edge that cuts them.
  for (const cell of seen.slice())
    for (const dj of [-1, 0, 1]) for (const di of [-1, 0, 1]) mark(cell + dj * columns + di);

  const nodes: Point[] = [];
  const nodeOf = new Map<number, number>();
  const node = (i: number, j: number): number => {
    const key = j * (columns + 1) + i;
    let at = nodeOf.get(key);
    if (at === undefined) {
      at = nodes.push([origin[0] + i * h, origin[1] + j * h]) - 1;
      nodeOf.set(key, at);
    }
    return at;
  };
  const triangles: number[] = [];
  for (const cell of seen) {
    const [i, j] = [cell % columns, Math.floor(cell / columns)];
    const [a, b, c, d] = [node(i, j), node(i + 1, j), node(i + 1, j + 1), node(i, j + 1)];
    // Diagonals change direction, so that none is preferred.
    if ((i + j) % 2 === 0) triangles.push(a, b, c, a, c, d);
    else triangles.push(a, b, d, b, c, d);
  }
  const count = triangles.length / 3;
  const [east, north] = [new Float64Array(3 * count), new Float64Array(3 * count)];
  const inside = new Uint8Array(count);
  for (let t = 0; t < count; t++) {
    const corners = [0, 1, 2].map((k) => nodes[triangles[3 * t + k]!]!);
    for (let k = 0; k < 3; k++) {
      const [p, q] = [corners[(k + 1) % 3]!, corners[(k + 2) % 3]!];
      // Twice the area is h squared.
      east[3 * t + k] = (p[1] - q[1]) / (h * h);
      north[3 * t + k] = (q[0] - p[0]) / (h * h);
    }
    const [a, b, c] = corners as [Point, Point, Point];
    inside[t] = cutter.contains([(a[0] + b[0] + c[0]) / 3, (a[1] + b[1] + c[1]) / 3]) ? 1 : 0;
  }
  return {
    nodes,
    zM: Float64Array.from(nodes, (p) => ground.heightAt(p).zM),
    triangles: Int32Array.from(triangles),
    east,
    north,
    cellM: h,
    inside,
  };
}

/** Rise of a value per metre east and north in a triangle. */
export function gradientIn(
  { triangles, east, north }: Pick<RowGrid, 'triangles' | 'east' | 'north'>,
  values: ArrayLike<number>,
  triangle: number,
): Point {
  let [x, y] = [0, 0];
  for (let k = 3 * triangle; k < 3 * triangle + 3; k++) {
    const value = values[triangles[k]!]!;
    x += value * east[k]!;
    y += value * north[k]!;
  }
  return [x, y];
}
