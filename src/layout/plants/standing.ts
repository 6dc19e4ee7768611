import { boxOf, distance, type Box, type Point, type Ring } from '../../base/point.ts';
import { distanceToRing, polygonContains } from '../../base/polygon.ts';
import type { Area, Plan } from '../../plan/records.ts';

interface Boxed {
  readonly area: Area;
  readonly box: Box;
}

const within = ([x, y]: Point, { minX, minY, maxX, maxY }: Box, byM: number): boolean =>
  x >= minX - byM && x <= maxX + byM && y >= minY - byM && y <= maxY + byM;

/** Rounding of places that lie just as far from an edge as asked, metres. */
const HAIR_M = 1e-9;

/**
 * Says where a plant may stand: in one of the beds, no nearer to its edge or to paving, buildings and lawn than asked. A
 * null for the beds asks for no bed, and keeps off the rest all the same.
 * @param edgeM metres in plan, 0 or more
 */
export function mayStand(
  plan: Pick<Plan, 'areas'>,
  beds: readonly Area[] | null,
  edgeM: number,
): (at: Point) => boolean {
  const boxed = (list: Iterable<Area>): Boxed[] =>
    [...list].flatMap((area) => {
      const box = boxOf(area.outline);
      return box && area.outline.length > 2 ? [{ area, box }] : [];
    });
  const wanted = beds && boxed(beds);
  const kept = boxed([...plan.areas].filter(({ use }) => use !== 'bed'));
  const clear = (rings: readonly Ring[], at: Point) =>
    edgeM <= 0 || rings.every((ring) => distanceToRing(ring, at) >= edgeM - HAIR_M);
  return (at) => {
    const inBed =
      !wanted ||
      wanted.some(
        ({ area, box }) =>
          within(at, box, 0) &&
          polygonContains(area.outline, area.holes, at) &&
          clear([area.outline, ...area.holes], at),
      );
    return (
      inBed &&
      kept.every(
        ({ area, box }) =>
          !within(at, box, Math.max(0, edgeM)) ||
          (!inside(area, at) && clear([area.outline, ...area.holes], at)),
      )
    );
  };
}

/** Well inside: the line between a bed and the paving beside it belongs to both, and is still bed. */
function inside({ outline, holes }: Area, at: Point): boolean {
  return (
    polygonContains(outline, holes, at) &&
    [outline, ...holes].every((ring) => distanceToRing(ring, at) > HAIR_M)
  );
}

/** Places by square cells, to find what stands too near. */
export class NearPlaces {
  private readonly cells = new Map<string, Point[]>();
  private readonly cellM: number;

  /** @param cellM side of a cell, metres; best the distance that will be asked for */
  constructor(cellM: number, places: Iterable<Point> = []) {
    this.cellM = cellM;
    for (const place of places) this.add(place);
  }

  add(at: Point): void {
    const key = this.key(at[0], at[1]);
    const cell = this.cells.get(key);
    if (cell) cell.push(at);
    else this.cells.set(key, [at]);
  }

  /** Whether something stands nearer than a distance of at most the side of a cell. */
  nearer(at: Point, thanM: number): boolean {
    for (let dx = -1; dx <= 1; dx++) {
      for (let dy = -1; dy <= 1; dy++) {
        const cell = this.cells.get(this.key(at[0] + dx * this.cellM, at[1] + dy * this.cellM));
        if (cell?.some((p) => distance(p, at) < thanM - HAIR_M)) return true;
      }
    }
    return false;
  }

  private key(x: number, y: number): string {
    return `${Math.floor(x / this.cellM)},${Math.floor(y / this.cellM)}`;
  }
}
