import { ringArea } from '../base/polygon.ts';
import { nearestOnSegment } from '../base/polyline.ts';
import { between, directionDeg, distance, type Point, type Ring } from '../base/point.ts';
import { formatQuantity, type UnitSystem } from '../base/quantity.ts';
import type { Table } from '../base/table.ts';
import { refKey, type Area } from '../plan/records.ts';
import { upright } from './labels.ts';
import type { Mark } from './marks.ts';

/** A straight side of a ring. */
export interface Side {
  readonly a: Point;
  readonly b: Point;
}

/** A corner between two pieces is passed over when it turns by less and lies no farther off the straight line. */
const STRAIGHT_DEG = 0.5;
const STRAIGHT_M = 0.005;

function turnDeg(a: Point, b: Point, c: Point): number {
  const turn = Math.abs(directionDeg(b, c) - directionDeg(a, b)) % 360;
  return Math.min(turn, 360 - turn);
}

/** Straight sides of a ring in its own direction; corners that hardly turn do not divide a side. */
export function sidesOf(ring: Ring): Side[] {
  const corners = ring.filter((p, i) => distance(p, ring.at(i - 1)!) > 0);
  const count = corners.length;
  if (count < 3) return [];
  const at = (i: number): Point => corners[i % count]!;
  const turns = corners.map((_, i) => turnDeg(at(i + count - 1), at(i), at(i + 1)));
  const start = turns.indexOf(Math.max(...turns));
  const sides: Side[] = [];
  let from = start;
  for (let to = start + 1; to <= start + count; to++) {
    const next = to + 1;
    const passed = Array.from({ length: to - from }, (_, i) => at(from + 1 + i));
    const straight =
      to < start + count &&
      turns[to % count]! < STRAIGHT_DEG &&
      passed.every((p) => nearestOnSegment(at(from), at(next), p).distance <= STRAIGHT_M);
    if (straight) continue;
    sides.push({ a: at(from), b: at(to) });
    from = to;
  }
  return sides;
}

const SIZE_MM = 2;
/** Clear paper between a side and its figure, millimetres: half a bold line and a little air. */
const CLEAR_MM = 0.8;
/** Height of figures as a share of the type size. */
const FIGURES = 0.714;
/** Sides shorter than this have no figure at any scale, metres. */
const SHORTEST_M = 0.05;

/**
 * Lengths of the sides of beds in plan, each along its side on the far side from the bed. A figure is left out at
 * scales at which it would be longer than its side.
 */
export function dimensionMarks(areas: Table<Area>, units: UnitSystem): Mark[] {
  return areas.toArray().flatMap((area): Mark[] => {
    if (area.use !== 'bed') return [];
    const owner = refKey({ table: 'areas', id: area.id });
    return [area.outline, ...area.holes].flatMap((ring, i) => {
      // Running counter-clockwise, the ring's inside lies to the left; outside a hole is inside its ring.
      const outsideRight = ringArea(ring) > 0 === (i === 0);
      return sidesOf(ring).flatMap(({ a, b }): Mark[] => {
        const length = distance(a, b);
        if (!(length >= SHORTEST_M)) return [];
        const along = directionDeg(a, b);
        const turn = upright(along);
        const flipped = Math.abs(along - turn) > 1;
        const below = outsideRight !== flipped;
        return [
          {
            kind: 'text',
            halo: 'paper',
            owner,
            at: between(a, b, 0.5),
            text: formatQuantity('length', length, units),
            sizeMm: SIZE_MM,
            ink: 'line',
            anchor: 'middle',
            turnDeg: turn,
            shiftMm: [0, below ? CLEAR_MM + FIGURES * SIZE_MM : -CLEAR_MM],
            fitM: length,
          },
        ];
      });
    });
  });
}
