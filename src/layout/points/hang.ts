import Flatbush from 'flatbush';
import type { Path, Point } from '../../base/point.ts';
import { nearestOnSegment } from '../../base/polyline.ts';
import type { Ground } from '../../derive/ground/index.ts';
import { ON_TUBING_M } from '../../plan/joining.ts';
import type { OpenGround } from './open-ground.ts';

/** The run on which an emitter hangs, and its feeder. */
export interface Hung {
  /** A run that is there, or the number of a new one. */
  readonly run: { readonly id: string } | { readonly number: number };
  readonly tap: Point;
  /** Length of the feeder on the ground, metres; 0 on the tubing. */
  readonly feederM: number;
  /** Whether it crosses paving, a building or what is left out of a bed. */
  readonly crosses: boolean;
}

/** A piece of tubing near to a place, and where on it. */
interface Near {
  readonly piece: number;
  readonly tap: Point;
  readonly far: number;
}

/** Nearest pieces that are looked at, and where the first feeder crosses something, for one that crosses nothing. */
const FIRST_LOOK = 4;
const LOOKED_AT = 24;

/**
 * Hangs emitters on the nearest run; where its feeder would cross paving or a building, on the nearest run of which the
 * feeder does not. `null` where there is no run.
 */
export function hangOnRuns(
  places: readonly Point[],
  existing: readonly { readonly id: string; readonly path: Path }[],
  fresh: readonly Path[],
  ground: Ground,
  open: OpenGround,
): (Hung | null)[] {
  const pieces: {
    readonly a: Point;
    readonly b: Point;
    readonly run: Hung['run'];
    readonly key: string;
    readonly path: Path;
  }[] = [];
  const take = (run: Hung['run'], key: string, path: Path): void => {
    for (let i = 1; i < path.length; i++) pieces.push({ a: path[i - 1]!, b: path[i]!, run, key, path });
  };
  for (const { id, path } of existing) take({ id }, `old/${id}`, path);
  fresh.forEach((path, number) => take({ number }, `new/${number}`, path));
  if (pieces.length === 0) return places.map(() => null);
  const index = new Flatbush(pieces.length);
  for (const { a, b } of pieces) {
    index.add(Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.max(a[0], b[0]), Math.max(a[1], b[1]));
  }
  index.finish();
  return places.map((p) => {
    const hang = ({ piece, tap, far }: Near): Hung => ({
      run: pieces[piece]!.run,
      tap,
      feederM: far > ON_TUBING_M ? ground.surfaceLength([tap, p]) : 0,
      crosses: open.crossesHard(tap, p),
    });
    const first = hang(nearestPieces(p, FIRST_LOOK)[0]!);
    if (!first.crosses) return first;
    return (
      nearestPieces(p, LOOKED_AT)
        .slice(1)
        .map(hang)
        .find(({ crosses }) => !crosses) ?? first
    );
  });

  /** The nearest place of each run round a place, nearest first. */
  function nearestPieces(p: Point, lookedAt: number): Near[] {
    // Boxes come first by their distance, which is at most that of the piece in them.
    let found = new Map<string, Near>();
    let most = lookedAt;
    for (;;) {
      found = new Map();
      let furthestBox = 0;
      const hits = index.neighbors(p[0], p[1], most);
      for (const piece of hits) {
        const { a, b, key } = pieces[piece]!;
        const near = nearestOnSegment(a, b, p);
        const known = found.get(key);
        if (!known || near.distance < known.far)
          found.set(key, { piece, tap: near.point, far: near.distance });
        furthestBox = Math.max(furthestBox, boxDistance(p, a, b));
      }
      const best = Math.min(...[...found.values()].map(({ far }) => far));
      if (hits.length >= pieces.length || best <= furthestBox) break;
      most *= 4;
    }
    return [...found.values()].sort((s, t) => s.far - t.far || s.piece - t.piece);
  }
}

function boxDistance([x, y]: Point, a: Point, b: Point): number {
  const dx = Math.max(0, Math.min(a[0], b[0]) - x, x - Math.max(a[0], b[0]));
  const dy = Math.max(0, Math.min(a[1], b[1]) - y, y - Math.max(a[1], b[1]));
  return Math.hypot(dx, dy);
}
