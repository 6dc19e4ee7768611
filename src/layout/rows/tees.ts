import { distance, type Path, type Point } from '../../base/point.ts';
import { nearestOnPath } from '../../base/polyline.ts';
import { UnionFind } from '../../derive/network/union-find.ts';
import type { CurvedPiece } from './contour-pieces.ts';
import type { Cutter } from './cut-line.ts';
import type { PieceEnd } from './pieces.ts';

/** A short piece of blank tubing from a row to the row beside it. */
export interface Tee {
  readonly piece: number;
  readonly to: number;
  readonly path: Path;
}

/** Places of a row from which a tee is looked for, about. */
const PLACES = 40;

/**
 * Tees for all ends of rows that lie within the bed: to the nearest place of another row that is no farther than `reachM`
 * and can be reached through the region. Ends without one stay free; rows that close in themselves have no ends.
 */
export function teesOf(
  pieces: readonly CurvedPiece[],
  region: Cutter,
  reachM: number,
): { readonly tees: readonly Tee[]; readonly ends: ReadonlySet<PieceEnd> } {
  const tees: Tee[] = [];
  const ends = new Set<PieceEnd>();
  pieces.forEach(({ first, last, isClosed, row }, i) => {
    for (const end of [first, last]) {
      if (isClosed) ends.add(end);
      if (isClosed || end.ring >= 0) continue;
      let best: Tee | null = null;
      let least = reachM;
      pieces.forEach((other, j) => {
        if (j === i || other.row === row || Math.abs(other.row - row) > 2) return;
        const near = nearestOnPath(other.path, end.at);
        if (near.distance >= least || !region.holds(end.at, near.point)) return;
        least = near.distance;
        best = { piece: i, to: j, path: [end.at, near.point] };
      });
      if (!best) continue;
      tees.push(best);
      ends.add(end);
    }
  });
  return { tees, ends };
}

/**
 * Tees that join what headers leave apart though rows lie side by side, such as rows that close in themselves on a hill:
 * the shortest ones that make all one (Kruskal's tree), none longer than `reachM`.
 * @param parts pieces that hang together already
 */
export function joiningTees(
  pieces: readonly CurvedPiece[],
  parts: readonly (readonly number[])[],
  region: Cutter,
  reachM: number,
): readonly Tee[] {
  if (parts.length < 2) return [];
  const groups = new UnionFind(pieces.length);
  for (const part of parts) for (const piece of part) groups.join(part[0]!, piece);
  const largest = parts.reduce((a, b) => (b.length > a.length ? b : a));
  const found: Tee[] = [];
  for (const part of parts) {
    if (part === largest) continue;
    for (const i of part) {
      const { path, row } = pieces[i]!;
      const step = Math.max(1, Math.floor(path.length / PLACES));
      const places: readonly Point[] = path.filter((_, k) => k % step === 0 || k === path.length - 1);
      pieces.forEach((other, j) => {
        if (groups.root(i) === groups.root(j) || Math.abs(other.row - row) > 2) return;
        let best: Tee | null = null;
        let least = reachM;
        for (const at of places) {
          const near = nearestOnPath(other.path, at);
          if (near.distance >= least || !region.holds(at, near.point)) continue;
          least = near.distance;
          best = { piece: i, to: j, path: [at, near.point] };
        }
        if (best) found.push(best);
      });
    }
  }
  const lengthOf = ({ path }: Tee): number => distance(path[0]!, path[1]!);
  return found
    .toSorted((a, b) => lengthOf(a) - lengthOf(b))
    .filter(({ piece, to }) => {
      if (groups.root(piece) === groups.root(to)) return false;
      groups.join(piece, to);
      return true;
    });
}
