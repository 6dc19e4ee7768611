import { distance, type Path, type Point } from '../../base/point.ts';

/** A straight piece from one place to another. */
export type Piece = readonly [Point, Point];

/** Ends no farther apart than this meet, metres. */
const MEET_M = 1e-6;
/** A corner this near to the straight line between its neighbours is none, as a share of their distance. */
const STRAIGHT = 1e-9;

/**
 * Joins pieces, each from its start to its end, into lines: open ones first, then closed ones. Corners on a straight
 * line are left out.
 */
export function joinedPieces(pieces: readonly Piece[]): { readonly path: Path; readonly closed: boolean }[] {
  const places = new Meeting();
  const ends = pieces
    .map(([a, b]) => [places.at(a), places.at(b)] as const)
    .filter(([from, to]) => from !== to);
  const out = new Map<number, number[]>();
  const incoming = new Map<number, number>();
  for (const [from, to] of ends) {
    const list = out.get(from);
    if (list) list.push(to);
    else out.set(from, [to]);
    incoming.set(to, (incoming.get(to) ?? 0) + 1);
  }
  const lines: { path: Path; closed: boolean }[] = [];
  const walk = (start: number) => {
    const nodes = [start];
    for (let next = out.get(start)?.pop(); next !== undefined; next = out.get(next)?.pop()) {
      nodes.push(next);
      if (next === start) break;
    }
    if (nodes.length < 2) return;
    const closed = nodes.length > 3 && nodes.at(-1) === start;
    const path = (closed ? nodes.slice(0, -1) : nodes).map((node) => places.where(node));
    lines.push({ path: straightened(path, closed), closed });
  };
  for (const [from] of ends) {
    while ((out.get(from)?.length ?? 0) > (incoming.get(from) ?? 0)) walk(from);
  }
  for (const [from] of ends) while (out.get(from)?.length) walk(from);
  return lines;
}

function straightened(path: Path, closed: boolean): Path {
  const kept: Point[] = [];
  path.forEach((p, i) => {
    const before = kept.at(-1) ?? (closed ? path.at(-1) : undefined);
    const after = path[i + 1] ?? (closed ? path[0] : undefined);
    if (!before || !after) {
      kept.push(p);
      return;
    }
    const cross = (p[0] - before[0]) * (after[1] - before[1]) - (p[1] - before[1]) * (after[0] - before[0]);
    if (Math.abs(cross) > STRAIGHT * distance(before, after) ** 2) kept.push(p);
  });
  return kept.length >= (closed ? 3 : 2) ? kept : path;
}

/** Places by number, those that meet under one. */
class Meeting {
  private readonly places: Point[] = [];
  private readonly cells = new Map<string, number[]>();

  where(node: number): Point {
    return this.places[node]!;
  }

  at(p: Point): number {
    const x = Math.floor(p[0] / MEET_M);
    const y = Math.floor(p[1] / MEET_M);
    for (let dx = -1; dx <= 1; dx++) {
      for (let dy = -1; dy <= 1; dy++) {
        for (const node of this.cells.get(`${x + dx},${y + dy}`) ?? []) {
          if (distance(this.places[node]!, p) <= MEET_M) return node;
        }
      }
    }
    const node = this.places.push(p) - 1;
    const key = `${x},${y}`;
    const cell = this.cells.get(key);
    if (cell) cell.push(node);
    else this.cells.set(key, [node]);
    return node;
  }
}
