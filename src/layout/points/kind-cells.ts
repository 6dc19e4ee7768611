import { boxOf, type Point } from '../../base/point.ts';

/** Sides of the squares, metres, and about how many of them there may be. */
const CELL_M = 0.25;
const MOST_CELLS = 250_000;
/** An edge marks the squares within this of it, so that rounding leaves none out; metres. */
const HAIR_M = 1e-6;

const UNKNOWN = -1;
const MIXED = -2;

/**
 * Remembers the kind of ground by squares: one that no edge passes is of one kind, which is looked up once. What lies
 * on a square with an edge is looked up each time.
 * @param edges all lines between two kinds
 * @param exact the kind at a place
 */
export function kindCells<Kind extends number>(
  edges: readonly { readonly a: Point; readonly b: Point }[],
  exact: (p: Point) => Kind,
): (p: Point) => Kind {
  const box = boxOf(edges.flatMap(({ a, b }) => [a, b]));
  if (!box) return exact;
  const [width, height] = [box.maxX - box.minX, box.maxY - box.minY];
  const side = Math.max(CELL_M, Math.sqrt((width * height) / MOST_CELLS), (width + height) / MOST_CELLS);
  const columns = Math.ceil(width / side) + 1;
  const rows = Math.ceil(height / side) + 1;
  const kinds = new Int8Array(columns * rows).fill(UNKNOWN);
  const columnOf = (x: number): number =>
    Math.min(columns - 1, Math.max(0, Math.floor((x - box.minX) / side)));
  const rowOf = (y: number): number => Math.min(rows - 1, Math.max(0, Math.floor((y - box.minY) / side)));
  for (const { a, b } of edges) {
    const [low, high] = a[1] <= b[1] ? [a, b] : [b, a];
    const lastRow = rowOf(high[1] + HAIR_M);
    for (let row = rowOf(low[1] - HAIR_M); row <= lastRow; row++) {
      // The part of the edge in this row of squares.
      const from = box.minY + row * side - HAIR_M;
      const xAt = (y: number): number => {
        const rise = high[1] - low[1];
        const t = rise > 0 ? Math.min(1, Math.max(0, (y - low[1]) / rise)) : 0;
        return low[0] + t * (high[0] - low[0]);
      };
      const isLevel = high[1] - low[1] < HAIR_M;
      const [p, q] = isLevel ? [low[0], high[0]] : [xAt(from), xAt(from + side + 2 * HAIR_M)];
      const last = columnOf(Math.max(p, q) + HAIR_M);
      for (let column = columnOf(Math.min(p, q) - HAIR_M); column <= last; column++) {
        kinds[row * columns + column] = MIXED;
      }
    }
  }
  return (p) => {
    const [x, y] = p;
    if (!(x >= box.minX && x <= box.maxX && y >= box.minY && y <= box.maxY)) return exact(p);
    const cell = rowOf(y) * columns + columnOf(x);
    const known = kinds[cell]!;
    if (known >= 0) return known as Kind;
    const kind = exact(p);
    if (known === UNKNOWN) kinds[cell] = kind;
    return kind;
  };
}
