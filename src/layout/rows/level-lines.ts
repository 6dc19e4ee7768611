import { between, type Point } from '../../base/point.ts';
import type { RowGrid } from './row-grid.ts';

/** A line of one value on a grid; greater values lie to its left. A closed one repeats its first place at its end. */
export interface LevelLine {
  readonly points: readonly Point[];
  /** The triangle that each straight piece crosses. */
  readonly triangles: readonly number[];
  readonly isClosed: boolean;
}

/** All lines of one value, exact on the triangles. */
export function levelLines(grid: RowGrid, values: Float64Array, level: number): LevelLine[] {
  const { nodes, triangles } = grid;
  const n = nodes.length;
  // By the edge that a piece enters at: where it leaves, and its triangle.
  const onward = new Map<number, { readonly to: number; readonly triangle: number }>();
  const reached = new Set<number>();
  const place = new Map<number, Point>();
  for (let t = 0; t < triangles.length / 3; t++) {
    const first = values[triangles[3 * t]!]! >= level;
    const second = values[triangles[3 * t + 1]!]! >= level;
    const third = values[triangles[3 * t + 2]!]! >= level;
    if (first === second && second === third) continue;
    const corners = [triangles[3 * t]!, triangles[3 * t + 1]!, triangles[3 * t + 2]!];
    const above = [first, second, third];
    let [from, to] = [-1, -1];
    for (let k = 0; k < 3; k++) {
      const [a, b] = [corners[k]!, corners[(k + 1) % 3]!];
      if (above[k] === above[(k + 1) % 3]) continue;
      const [low, high] = a < b ? [a, b] : [b, a];
      const key = low * n + high;
      if (!place.has(key))
        place.set(
          key,
          between(nodes[low]!, nodes[high]!, (level - values[low]!) / (values[high]! - values[low]!)),
        );
      // Counter-clockwise round the triangle: going up enters with the higher side on the left behind it.
      if (above[k]) from = key;
      else to = key;
    }
    onward.set(from, { to, triangle: t });
    reached.add(to);
  }
  const lines: LevelLine[] = [];
  const follow = (start: number): void => {
    const points: Point[] = [place.get(start)!];
    const crossed: number[] = [];
    let at = start;
    for (let next = onward.get(at); next; next = onward.get(at)) {
      onward.delete(at);
      points.push(place.get(next.to)!);
      crossed.push(next.triangle);
      at = next.to;
    }
    lines.push({ points, triangles: crossed, isClosed: at === start && points.length > 3 });
  };
  for (const start of [...onward.keys()]) if (!reached.has(start)) follow(start);
  for (const start of [...onward.keys()]) if (onward.has(start)) follow(start);
  return lines;
}
