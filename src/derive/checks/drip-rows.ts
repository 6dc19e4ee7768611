import Flatbush from 'flatbush';
import { memo } from '../../base/memo.ts';
import { between, distance, type Point } from '../../base/point.ts';
import { polygonContains, ringContains } from '../../base/polygon.ts';
import { isRound } from './run-shape.ts';
import type { Plan, Run } from '../../plan/records.ts';
import { groundOf } from '../ground/index.ts';

/** A place on a row of dripline, with the way over to the next row on either side. */
export interface RowPlace {
  readonly run: Run;
  readonly at: Point;
  readonly zM: number;
  /** Length of row that it stands for, on the ground, metres. */
  readonly lengthM: number;
  /** Slope there, percent, and the angle between row and contour, degrees 0 to 90. */
  readonly slopePercent: number;
  readonly toContourDeg: number;
  /** To the next rows. None beyond `WIDEST_M`, or `WIDEST_IN_BED_M` over one and the same bed. */
  readonly gaps: readonly RowGap[];
  /** The bed in which it lies; null outside of beds. */
  readonly bedId: string | null;
}

/** The way over from one row to the next. */
export interface RowGap {
  /** On the ground, metres. */
  readonly spacingM: number;
  /** Height half way. */
  readonly zM: number;
  /** The same for all places between the same two rows. */
  readonly rows: string;
}

/** Dripline farther apart than this is not taken for rows of one grid, metres; more if one bed lies between. */
export const WIDEST_M = 1;
export const WIDEST_IN_BED_M = 2;
/** Places are looked at about this far apart along a row, metres. */
const STEP_M = 2;
/** Rows of one grid run within this angle of each other: sine of 30 degrees. */
const PARALLEL_SINE = 0.5;
const NEAREST_M = 0.03;

/**
 * Places along all dripline but rings round plants, with the gaps to the rows beside them. Places lie every 2 m or in
 * the middle of shorter pieces; pieces are found by a tree of boxes, so that time grows with n log n.
 */
export const rowPlaces = memo(
  (
    runs: Plan['runs'],
    fills: Plan['fills'],
    areas: Plan['areas'],
    levels: Plan['levels'],
    falls: Plan['falls'],
    plants: Plan['plants'],
  ): readonly RowPlace[] => {
    const round = new Set([...fills].flatMap((fill) => (fill.kind === 'tree' ? fill.runIds : [])));
    const ofBeds = new Set([...fills].flatMap((fill) => (fill.kind === 'bed' ? fill.runIds : [])));
    const pieces: { readonly run: Run; readonly a: Point; readonly b: Point }[] = [];
    for (const run of runs) {
      if (!run.inline || round.has(run.id)) continue;
      if (!ofBeds.has(run.id) && isRound(run.path) && isAboutPlant(run, plants)) continue;
      for (let i = 1; i < run.path.length; i++) {
        const [a, b] = [run.path[i - 1]!, run.path[i]!];
        if (distance(a, b) > NEAREST_M) pieces.push({ run, a, b });
      }
    }
    if (pieces.length === 0) return [];
    const boxes = new Flatbush(pieces.length);
    for (const { a, b } of pieces) {
      boxes.add(Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.max(a[0], b[0]), Math.max(a[1], b[1]));
    }
    boxes.finish();
    const ground = groundOf({ levels, falls });
    const bedOf = bedFinder(areas);
    const places: RowPlace[] = [];
    for (const [own, { run, a, b }] of pieces.entries()) {
      const lengthM = distance(a, b);
      const along: Point = [(b[0] - a[0]) / lengthM, (b[1] - a[1]) / lengthM];
      const count = Math.max(1, Math.round(lengthM / STEP_M));
      for (let k = 0; k < count; k++) {
        const at = between(a, b, (k + 0.5) / count);
        const { percent, fallDeg } = ground.slopeAt(at);
        const fall = (fallDeg * Math.PI) / 180;
        const down = Math.abs(along[0] * Math.cos(fall) + along[1] * Math.sin(fall));
        const rise = (percent / 100) * down;
        const gaps = [1, -1].flatMap((side) => {
          const normal: Point = [-along[1] * side, along[0] * side];
          const found = nearestAcross(at, along, normal, pieces, boxes);
          if (found === null) return [];
          const { reach, index } = found;
          const other: Point = [at[0] + normal[0] * reach, at[1] + normal[1] * reach];
          const middle = between(at, other, 0.5);
          if (reach > WIDEST_M) {
            const bed = bedOf(at);
            if (bed === null || bedOf(middle) !== bed || bedOf(other) !== bed) return [];
          }
          // Distance of parallel lines on a plane: in plan times sqrt(1 + slope^2) / sqrt(1 + rise along them^2).
          const factor = Math.sqrt((1 + (percent / 100) ** 2) / (1 + rise * rise));
          const rows = rowsBetween(run, own, pieces[index]!.run, index);
          return [{ spacingM: reach * factor, zM: ground.heightAt(middle).zM, rows }];
        });
        places.push({
          run,
          at,
          zM: ground.heightAt(at).zM,
          lengthM: (lengthM / count) * Math.hypot(1, rise),
          slopePercent: percent,
          toContourDeg: (Math.asin(Math.min(1, down)) * 180) / Math.PI,
          gaps,
          bedId: bedOf(at),
        });
      }
    }
    return places;
  },
);

/** The places of a plan. */
export function rowsOf({ runs, fills, areas, levels, falls, plants }: Plan): readonly RowPlace[] {
  return rowPlaces(runs, fills, areas, levels, falls, plants);
}

/** Places by the bed in which they lie. */
export function byBed(places: readonly RowPlace[]): ReadonlyMap<string, readonly RowPlace[]> {
  const found = new Map<string, RowPlace[]>();
  for (const place of places) {
    if (place.bedId === null) continue;
    const list = found.get(place.bedId);
    if (list) list.push(place);
    else found.set(place.bedId, [place]);
  }
  return found;
}

/** Names of the runs on which places lie, each once, as refs. */
export function runRefs(places: readonly RowPlace[]): readonly { table: 'runs'; id: string }[] {
  return [...new Set(places.map(({ run }) => run.id))].map((id) => ({ table: 'runs', id }));
}

/** The middle one by size; NaN of none. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}

function nearestAcross(
  at: Point,
  along: Point,
  normal: Point,
  pieces: readonly { readonly a: Point; readonly b: Point }[],
  boxes: Flatbush,
): { readonly reach: number; readonly index: number } | null {
  const far: Point = [at[0] + normal[0] * WIDEST_IN_BED_M, at[1] + normal[1] * WIDEST_IN_BED_M];
  let nearest = Infinity;
  let index = -1;
  for (const i of boxes.search(
    Math.min(at[0], far[0]),
    Math.min(at[1], far[1]),
    Math.max(at[0], far[0]),
    Math.max(at[1], far[1]),
  )) {
    const { a, b } = pieces[i]!;
    const d: Point = [b[0] - a[0], b[1] - a[1]];
    const sine = Math.abs(along[0] * d[1] - along[1] * d[0]) / Math.hypot(d[0], d[1]);
    if (sine > PARALLEL_SINE) continue;
    // Where the line at + t normal meets the piece a + s d.
    const cross = normal[0] * d[1] - normal[1] * d[0];
    if (cross === 0) continue;
    const [ex, ey] = [a[0] - at[0], a[1] - at[1]];
    const t = (ex * d[1] - ey * d[0]) / cross;
    const s = (ex * normal[1] - ey * normal[0]) / cross;
    if (s >= -1e-9 && s <= 1 + 1e-9 && t > NEAREST_M && t < nearest) {
      nearest = t;
      index = i;
    }
  }
  return nearest <= WIDEST_IN_BED_M ? { reach: nearest, index } : null;
}

/** Names two rows the same from either side; a run that turns round and round has many rows. */
function rowsBetween(run: Run, own: number, other: Run, index: number): string {
  const ends: readonly (string | number)[] = run === other ? [own, index] : [run.id, other.id];
  return ends[0]! < ends[1]! ? `${ends[0]} ${ends[1]}` : `${ends[1]} ${ends[0]}`;
}

/** Whether a ring was drawn for what stands in it: a tree, or one plant alone. */
function isAboutPlant({ path }: Run, plants: Plan['plants']): boolean {
  const inside = [...plants].filter(({ at }) => ringContains(path, at));
  return inside.length === 1 || inside.some(({ plantClass }) => plantClass === 'tree');
}

function bedFinder(areas: Plan['areas']): (p: Point) => string | null {
  const beds = [...areas].filter(({ use }) => use === 'bed');
  let last = beds[0];
  return (p) => {
    // Neighbouring places mostly lie in one bed.
    if (last && polygonContains(last.outline, last.holes, p)) return last.id;
    const found = beds.find(({ outline, holes }) => polygonContains(outline, holes, p));
    if (found) last = found;
    return found?.id ?? null;
  };
}
