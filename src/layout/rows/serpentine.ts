import type { Path, Point } from '../../base/point.ts';
import type { Frame } from './frame.ts';
import type { EdgeRing, Piece, PieceEnd } from './pieces.ts';
import { endsByRing, gapAfter, withoutRepeats } from './ring-walk.ts';

interface Way {
  readonly to: PieceEnd;
  readonly between: Path;
}

/**
 * Rows joined to one line that goes back and forth, with the turns along the edge; a new line begins where rows do not
 * follow each other. The first turn is on the side that is given. `lineOf` tells the line of each piece.
 */
export function serpentines(
  rings: readonly EdgeRing[],
  frame: Frame,
  pieces: readonly Piece[],
  firstTurn: PieceEnd['side'],
): { readonly lines: Path[]; readonly lineOf: readonly number[] } {
  const ways = waysBetween(rings, frame, pieces);
  const done = new Set<number>();
  const lines: Path[] = [];
  const lineOf: number[] = [];
  pieces.forEach((_, start) => {
    if (done.has(start)) return;
    const points: Point[] = [];
    let at = start;
    let turn = firstTurn;
    for (;;) {
      done.add(at);
      lineOf[at] = lines.length;
      const piece = pieces[at]!;
      const [enter, leave] = turn === 'last' ? [piece.first, piece.last] : [piece.last, piece.first];
      const drawn = piece.path ?? [piece.first.at, piece.last.at];
      points.push(...(enter === piece.first ? drawn : drawn.toReversed()));
      const next = (ways.get(leave) ?? []).find(
        ({ to }) => !done.has(to.piece) && pieces[to.piece]!.row > piece.row,
      );
      if (!next) break;
      points.push(...next.between);
      at = next.to.piece;
      turn = turn === 'last' ? 'first' : 'last';
    }
    lines.push(withoutRepeats(points));
  });
  return { lines, lineOf };
}

/** Neighbours on one side of the rows, by the end from which they are reached. */
function waysBetween(
  rings: readonly EdgeRing[],
  frame: Frame,
  pieces: readonly Piece[],
): ReadonlyMap<PieceEnd, readonly Way[]> {
  const ways = new Map<PieceEnd, Way[]>();
  const add = (from: PieceEnd, way: Way): void => {
    const list = ways.get(from);
    if (list) list.push(way);
    else ways.set(from, [way]);
  };
  for (const list of endsByRing(pieces.flatMap(({ first, last }) => [first, last]))) {
    list.forEach((from, i) => {
      const to = list[(i + 1) % list.length]!;
      if (from === to || from.side !== to.side) return;
      const { between } = gapAfter(rings, frame, from, to);
      add(from, { to, between });
      add(to, { to: from, between: between.toReversed() });
    });
  }
  return ways;
}
