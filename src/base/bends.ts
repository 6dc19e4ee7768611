import { distance, type Path, type Point } from './point.ts';

/** A corner of a path that a pipe cannot be bent round. */
export interface TightBend {
  readonly at: Point;
  /** Number of the corner in the path. */
  readonly index: number;
  /** Change of direction, degrees, 0 to 180. */
  readonly turnDeg: number;
}

/** Corners that turn less than this are none, degrees. */
const LEAST_TURN_DEG = 5;
/** Places on a straight piece turn by no more than this, degrees; they part no piece in two. */
const STRAIGHT_DEG = 0.5;
/** A pipe that turns back farther than this in one corner is folded, whatever room there is, degrees. */
const FOLD_DEG = 135;

/**
 * Corners of a path at which an arc of the least radius finds no room. An arc that rounds a corner of turn w takes up
 * `radiusM x tan(w / 2)` of each piece beside it (tangent length of a circular curve); where the arcs of two corners
 * need more than the piece between them, or a single one more than the piece to the path's end, both are tight. A corner
 * of more than 135 degrees always is.
 * @param radiusM least radius, metres, above 0; anything else finds nothing
 */
export function tightBends(path: Path, radiusM: number): TightBend[] {
  if (!(radiusM > 0) || !Number.isFinite(radiusM)) return [];
  // Places that repeat the one before have no direction, and those on a straight piece are no corners.
  const places = path
    .map((at, index) => ({ at, index }))
    .filter(({ at }, i) => i === 0 || distance(path[i - 1]!, at) > 1e-9);
  const kept: (typeof places)[number][] = [];
  places.forEach((place, i) => {
    const [before, after] = [kept.at(-1), places[i + 1]];
    if (!before || !after || turnDeg(before.at, place.at, after.at) > STRAIGHT_DEG) kept.push(place);
  });
  const turns = kept.map(({ at }, i): number => {
    const before = kept[i - 1]?.at;
    const after = kept[i + 1]?.at;
    return before && after ? turnDeg(before, at, after) : 0;
  });
  const needs = turns.map((turn) =>
    turn < LEAST_TURN_DEG ? 0 : radiusM * Math.tan((Math.min(turn, 179) * Math.PI) / 360),
  );
  return kept.flatMap(({ at, index }, i): TightBend[] => {
    const turn = turns[i]!;
    if (needs[i]! === 0) return [];
    const crowded = [i - 1, i + 1].some((j) => {
      const other = kept[j]!;
      return needs[i]! + needs[j]! > distance(at, other.at) * (1 + 1e-9);
    });
    return turn > FOLD_DEG || crowded ? [{ at, index, turnDeg: turn }] : [];
  });
}

/** Change of direction at `b` on the way from `a` to `c`, degrees. */
function turnDeg(a: Point, b: Point, c: Point): number {
  const [ux, uy, vx, vy] = [b[0] - a[0], b[1] - a[1], c[0] - b[0], c[1] - b[1]];
  return (Math.abs(Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy)) * 180) / Math.PI;
}
