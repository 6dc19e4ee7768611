import type { Point, Ring } from '../../base/point.ts';
import type { NodeField } from './node-field.ts';

/** A ring between what is inside and what is not, with the owner of the inside next to it. */
export interface OwnedRing {
  readonly owner: number;
  readonly ring: Ring;
}

/** Numbers edges of the net: two for each node, the one to the east and the one to the north. */
const ROW = 2 ** 25;
const HALF_ROW = ROW / 2;

interface Crossing {
  readonly at: Point;
  /** Edge at which the ring goes on. */
  next: number;
  readonly owner: number;
}

/**
 * Rings about the nodes whose value is above 0 (marching squares, the crossing on an edge by linear interpolation).
 * Inside lies on the left of each ring. Two corners of a mesh that lie inside across from each other count as apart.
 */
export function ringsRound(field: NodeField, meshM: number, [originX, originY]: Point): OwnedRing[] {
  const crossings = new Map<number, Crossing>();
  const edgeEast = (column: number, row: number) => 2 * ((row + HALF_ROW) * ROW + column + HALF_ROW);
  const edgeNorth = (column: number, row: number) => edgeEast(column, row) + 1;
  const share = (from: number, to: number): number => from / (from - to);

  for (const { column: firstColumn, row: firstRow, value, owner, side } of field) {
    for (let r = 0; r < side; r++) {
      for (let c = 0; c < side; c++) {
        const column = firstColumn + c;
        const row = firstRow + r;
        const node = r * side + c;
        const insideTile = c + 1 < side && r + 1 < side;
        const sw = value[node]!;
        const se = c + 1 < side ? value[node + 1]! : field.value(column + 1, row);
        const nw = r + 1 < side ? value[node + side]! : field.value(column, row + 1);
        const ne = insideTile ? value[node + side + 1]! : field.value(column + 1, row + 1);
        const corners = (sw > 0 ? 1 : 0) + (se > 0 ? 2 : 0) + (ne > 0 ? 4 : 0) + (nw > 0 ? 8 : 0);
        if (corners === 0 || corners === 15) continue;
        const who = owner[node]!;
        const south = () => ({ key: edgeEast(column, row), x: column + share(sw, se), y: row });
        const north = () => ({ key: edgeEast(column, row + 1), x: column + share(nw, ne), y: row + 1 });
        const west = () => ({ key: edgeNorth(column, row), x: column, y: row + share(sw, nw) });
        const east = () => ({ key: edgeNorth(column + 1, row), x: column + 1, y: row + share(se, ne) });
        const go = (from: { key: number; x: number; y: number }, to: { key: number }) =>
          crossings.set(from.key, {
            at: [originX + from.x * meshM, originY + from.y * meshM],
            next: to.key,
            owner: who,
          });
        // Each corner that stands alone is gone round counter-clockwise, inside on the left.
        switch (corners) {
          case 1:
            go(south(), west());
            break;
          case 2:
            go(east(), south());
            break;
          case 3:
            go(east(), west());
            break;
          case 4:
            go(north(), east());
            break;
          case 5:
            go(south(), west());
            go(north(), east());
            break;
          case 6:
            go(north(), south());
            break;
          case 7:
            go(north(), west());
            break;
          case 8:
            go(west(), north());
            break;
          case 9:
            go(south(), north());
            break;
          case 10:
            go(east(), south());
            go(west(), north());
            break;
          case 11:
            go(east(), north());
            break;
          case 12:
            go(west(), east());
            break;
          case 13:
            go(south(), east());
            break;
          default:
            go(west(), south());
        }
      }
    }
  }
  return walked(crossings);
}

function walked(crossings: Map<number, Crossing>): OwnedRing[] {
  const rings: OwnedRing[] = [];
  for (const [start, first] of crossings) {
    const ring: Point[] = [];
    let key = start;
    for (let here = crossings.get(key); here; here = crossings.get(key)) {
      ring.push(here.at);
      crossings.delete(key);
      key = here.next;
    }
    if (ring.length >= 3) rings.push({ owner: first.owner, ring });
  }
  return rings;
}
