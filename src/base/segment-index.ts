import Flatbush from 'flatbush';
import type { Path, Point } from './point.ts';
import { nearestOnSegment, segmentCrossing } from './polyline.ts';

/** A path that has a name. */
export interface NamedPath {
  readonly id: string;
  readonly path: Path;
}

/** A place where two paths cross and neither has a corner. */
export interface Crossing {
  readonly at: Point;
  /** Names of the two paths, in the order of the index; the same one twice where a path crosses itself. */
  readonly ids: readonly [string, string];
}

interface Segment {
  readonly id: string;
  readonly a: Point;
  readonly b: Point;
  /** Number of the path and of the piece in it. */
  readonly path: number;
  readonly piece: number;
}

const isPlace = ([x, y]: Point) => Number.isFinite(x) && Number.isFinite(y);

/** The straight pieces of many paths, found by place. Pieces with places that are no numbers are left out. */
export class SegmentIndex {
  private readonly segments: Segment[] = [];
  private readonly boxes: Flatbush | null;
  private readonly ids: string[] = [];

  constructor(paths: Iterable<NamedPath>) {
    for (const { id, path } of paths) {
      const number = this.ids.push(id) - 1;
      for (let i = 1; i < path.length; i++) {
        const [a, b] = [path[i - 1]!, path[i]!];
        if (isPlace(a) && isPlace(b)) this.segments.push({ id, a, b, path: number, piece: i });
      }
    }
    this.boxes = this.segments.length ? new Flatbush(this.segments.length) : null;
    for (const { a, b } of this.segments)
      this.boxes?.add(Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.max(a[0], b[0]), Math.max(a[1], b[1]));
    this.boxes?.finish();
  }

  private *near(a: Point, b: Point, byM: number): Generator<number> {
    if (!this.boxes || !isPlace(a) || !isPlace(b)) return;
    yield* this.boxes.search(
      Math.min(a[0], b[0]) - byM,
      Math.min(a[1], b[1]) - byM,
      Math.max(a[0], b[0]) + byM,
      Math.max(a[1], b[1]) + byM,
    );
  }

  /** Names of the paths that pass a place within a distance, metres, each once. */
  passing(at: Point, withinM: number): string[] {
    const found = new Set<string>();
    for (const i of this.near(at, at, withinM)) {
      const { id, a, b } = this.segments[i]!;
      if (nearestOnSegment(a, b, at).distance <= withinM) found.add(id);
    }
    return [...found];
  }

  /**
   * All places where two pieces cross in their middles, O((n + k) log n) for k pairs of boxes that overlap. Where an end
   * or corner of one lies on the other within `jointM` they are joined, not crossed.
   * @param jointM metres
   */
  crossings(jointM: number): Crossing[] {
    return this.segments.flatMap((segment, i) =>
      [...this.near(segment.a, segment.b, jointM)]
        .filter((j) => j > i)
        .sort((m, n) => m - n)
        .flatMap((j): Crossing[] => {
          const other = this.segments[j]!;
          if (other.path === segment.path && Math.abs(other.piece - segment.piece) <= 1) return [];
          const at = crossed(segment, other, jointM);
          return at ? [{ at, ids: [segment.id, other.id] }] : [];
        }),
    );
  }

  /** Places where a path, which is not in the index, crosses paths of it without a joint. */
  crossingsWith(path: Path, jointM: number): Crossing[] {
    const found: Crossing[] = [];
    for (let i = 1; i < path.length; i++) {
      const [a, b] = [path[i - 1]!, path[i]!];
      for (const j of this.near(a, b, jointM)) {
        const other = this.segments[j]!;
        const at = crossed({ a, b }, other, jointM);
        if (at) found.push({ at, ids: [other.id, ''] });
      }
    }
    return found;
  }
}

/** Where two pieces cross; null where they do not, or where an end of one lies on the other. */
function crossed(
  { a, b }: Pick<Segment, 'a' | 'b'>,
  { a: c, b: d }: Pick<Segment, 'a' | 'b'>,
  jointM: number,
): Point | null {
  const at = segmentCrossing(a, b, c, d);
  if (!at) return null;
  const joined =
    [a, b].some((p) => nearestOnSegment(c, d, p).distance <= jointM) ||
    [c, d].some((p) => nearestOnSegment(a, b, p).distance <= jointM);
  return joined ? null : at;
}
