import { boxOf, directionDeg, distance, type Point, type Ring } from '../../base/point.ts';
import { polygonContains } from '../../base/polygon.ts';
import type { Ground } from '../../derive/ground/index.ts';
import type { Area } from '../../plan/records.ts';
import type { RowDirection } from './choices.ts';

/** Plane axes of a fill: u runs along the rows, v across them to the left; the origin is near the bed. */
export interface Frame {
  readonly directionDeg: number;
  toFrame(p: Point): Point;
  toPlan(p: Point): Point;
}

export function frameAlong(directionDegrees: number, origin: Point): Frame {
  const radians = (directionDegrees * Math.PI) / 180;
  const [c, s] = [Math.cos(radians), Math.sin(radians)];
  return {
    directionDeg: directionDegrees,
    toFrame: ([x, y]) => {
      const [dx, dy] = [x - origin[0], y - origin[1]];
      return [dx * c + dy * s, dy * c - dx * s];
    },
    toPlan: ([u, v]) => [origin[0] + u * c - v * s, origin[1] + u * s + v * c],
  };
}

/** Edges that turn from a direction by no more than this count as running along it, degrees. */
const ALONG_DEG = 3;
/** An edge direction that holds less of the outline than this is no long edge of a bed. */
const LEAST_SHARE = 0.2;
/** Rows follow the long edge where the contour lies within this of it, degrees: they drop by less than a tenth of the slope. */
const EDGE_FOR_CONTOUR_DEG = 5;
/** Slopes under this have no contour to follow, percent. */
const LEVEL_PERCENT = 1;
/** Places looked at for the mean plane, about. */
const PLACES = 400;

/** Difference of two directions without arrow, degrees, 0 to 90. */
export function angleBetween(a: number, b: number): number {
  const turned = (((a - b) % 180) + 180) % 180;
  return Math.min(turned, 180 - turned);
}

const plain = (deg: number): number => {
  const turned = ((deg % 180) + 180) % 180;
  return turned > 180 - 1e-9 ? 0 : turned;
};

/**
 * Direction of the bed's long edge, degrees from 0 to 180: that along which most of the outline runs, of equals the one
 * across which the bed is narrower. Outlines without straight edges give the direction across which they are narrowest.
 */
export function longEdgeDeg(outline: Ring): number {
  const edges = outline.flatMap((a, i) => {
    const b = outline[(i + 1) % outline.length]!;
    const lengthM = distance(a, b);
    return lengthM > 0 ? [{ deg: plain(directionDeg(a, b)), lengthM }] : [];
  });
  const around = edges.reduce((sum, { lengthM }) => sum + lengthM, 0);
  const candidates = edges.map(({ deg, lengthM }) => ({
    deg,
    lengthM,
    along: edges.reduce((sum, e) => (angleBetween(e.deg, deg) <= ALONG_DEG ? sum + e.lengthM : sum), 0),
    width: widthAcross(outline, deg),
  }));
  const hair = around * 1e-9;
  const straight = candidates.filter(({ along }) => along >= around * LEAST_SHARE);
  const best = (straight.length ? straight : candidates).toSorted((a, b) => {
    if (straight.length && Math.abs(a.along - b.along) > hair) return b.along - a.along;
    if (Math.abs(a.width - b.width) > hair) return a.width - b.width;
    return b.lengthM - a.lengthM;
  })[0];
  return best?.deg ?? 0;
}

function widthAcross(outline: Ring, deg: number): number {
  const frame = frameAlong(deg, outline[0]!);
  const box = boxOf(outline.map(frame.toFrame))!;
  return box.maxY - box.minY;
}

/** Rise per metre east and north of the plane that lies nearest to the ground of an area (least squares). */
export function meanGradient(ground: Ground, { outline, holes }: Pick<Area, 'outline' | 'holes'>): Point {
  const box = boxOf(outline);
  if (ground.knows !== 'slope' || !box) return [0, 0];
  const side = Math.sqrt(((box.maxX - box.minX) * (box.maxY - box.minY)) / PLACES);
  const columns = Math.min(PLACES, Math.max(2, Math.round((box.maxX - box.minX) / side)));
  const rows = Math.min(PLACES, Math.max(2, Math.round((box.maxY - box.minY) / side)));
  const places: Point[] = [];
  for (let i = 0; i < columns; i++) {
    for (let j = 0; j < rows; j++) {
      const at: Point = [
        box.minX + ((i + 0.5) * (box.maxX - box.minX)) / columns,
        box.minY + ((j + 0.5) * (box.maxY - box.minY)) / rows,
      ];
      if (polygonContains(outline, holes, at)) places.push(at);
    }
  }
  // Too few to tell a plane by them.
  if (places.length < 6) places.push(...outline);
  const mean = (of: (p: Point) => number) => places.reduce((sum, p) => sum + of(p), 0) / places.length;
  const heights = new Map(places.map((p) => [p, ground.heightAt(p).zM]));
  const [cx, cy, cz] = [mean((p) => p[0]), mean((p) => p[1]), mean((p) => heights.get(p)!)];
  const xx = mean((p) => (p[0] - cx) ** 2);
  const yy = mean((p) => (p[1] - cy) ** 2);
  const xy = mean((p) => (p[0] - cx) * (p[1] - cy));
  const xz = mean((p) => (p[0] - cx) * (heights.get(p)! - cz));
  const yz = mean((p) => (p[1] - cy) * (heights.get(p)! - cz));
  const det = xx * yy - xy * xy;
  if (!(det > 1e-9 * xx * yy)) return [0, 0];
  return [(xz * yy - yz * xy) / det, (yz * xx - xz * xy) / det];
}

/** The direction that rows take, and whether the ground was too level for the contour that was asked for. */
export function rowDirection(
  direction: RowDirection,
  outline: Ring,
  gradient: Point,
): { readonly deg: number; readonly isLevel: boolean } {
  if (typeof direction === 'number') return { deg: plain(direction), isLevel: false };
  const edge = longEdgeDeg(outline);
  if (direction === 'long edge') return { deg: edge, isLevel: false };
  const contour = contourDeg(gradient);
  if (contour === null) return { deg: edge, isLevel: true };
  return { deg: angleBetween(contour, edge) <= EDGE_FOR_CONTOUR_DEG ? edge : contour, isLevel: false };
}

/** Direction across the fall, degrees from 0 to 180; `null` on ground that is as good as level. */
export function contourDeg([east, north]: Point): number | null {
  if (Math.hypot(east, north) * 100 < LEVEL_PERCENT) return null;
  return plain((Math.atan2(east, -north) * 180) / Math.PI);
}
