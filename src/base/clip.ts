import {
  ClipType,
  EndType,
  FillRule,
  inflatePathsD,
  JoinType,
  booleanOpD,
  type PathD,
  type PathsD,
} from 'clipper2-ts';
import { ringArea } from './polygon.ts';
import { boxOf, polar, type Box, type Point, type Ring } from './point.ts';

/**
 * Boolean algebra of polygons by the open library Clipper2, the only module that uses it. The library works on
 * integers: coordinates are kept to a micrometre, counted from a corner of what is clipped so that plans far from the
 * origin keep their digits.
 */

/**
 * Ground as closed rings, metres: outer rings run counter-clockwise, holes clockwise, none crosses itself or another.
 * Only the functions of this module make one.
 */
export type Region = readonly Ring[];

export const NOWHERE: Region = [];

/** Digits after the metre that are kept. */
const PRECISION = 6;
/** Rounded corners of an inset err by at most this, metres. */
const ARC_TOLERANCE_M = 0.0005;
/** Sides of a circle's polygon turn by at most this, degrees. */
const ARC_STEP_DEG = 3;

/** The ground inside an outline (even-odd where it crosses itself) and in none of its holes. */
export function regionOf(outline: Ring, holes: readonly Ring[] = []): Region {
  if (outline.length < 3 || !outline.every(([x, y]) => Number.isFinite(x) && Number.isFinite(y)))
    return NOWHERE;
  const whole = operate(ClipType.Union, [outline], [], FillRule.EvenOdd);
  return holes.length === 0 ? whole : difference(whole, union(holes.map((hole) => regionOf(hole))));
}

/** The ground in any of the regions. */
export function union(regions: readonly Region[]): Region {
  const all = regions.filter((region) => region.length > 0);
  return all.length < 2 ? (all[0] ?? NOWHERE) : operate(ClipType.Union, all.flat(), []);
}

/** The ground in both. */
export function intersection(a: Region, b: Region): Region {
  return a.length === 0 || b.length === 0 || apart(a, b) ? NOWHERE : operate(ClipType.Intersection, a, b);
}

/** The ground in `a` and not in `b`. */
export function difference(a: Region, b: Region): Region {
  return a.length === 0 || b.length === 0 || apart(a, b) ? a : operate(ClipType.Difference, a, b);
}

/** Area of a region, m2. */
export function regionArea(region: Region): number {
  // Outer rings count up and holes down.
  return Math.max(
    0,
    region.reduce((sum, ring) => sum + ringArea(ring), 0),
  );
}

/** The places of a region that are further than this from its edge, metres. */
export function inset(region: Region, widthM: number): Region {
  if (region.length === 0 || !(widthM > 0)) return region;
  const origin = originOf(region);
  const paths = inflatePathsD(
    region.map((ring) => toPath(ring, origin)),
    -widthM,
    // Round about the corners that point inwards: all places at that distance.
    JoinType.Round,
    EndType.Polygon,
    2,
    PRECISION,
    ARC_TOLERANCE_M,
  );
  return fromPaths(paths, origin);
}

/** The region with gaps narrower than twice this closed, metres: what is left between pieces that were put together. */
export function closed(region: Region, widthM: number): Region {
  if (region.length === 0 || !(widthM > 0)) return region;
  const origin = originOf(region);
  const grown = (paths: PathsD, by: number): PathsD =>
    inflatePathsD(paths, by, JoinType.Miter, EndType.Polygon, 10, PRECISION);
  const paths = region.map((ring) => toPath(ring, origin));
  return fromPaths(grown(grown(paths, widthM), -widthM), origin);
}

/**
 * Width of the widest circle that fits into a region, metres, to half a centimetre: the region is nowhere wider. 0 for
 * ground without area.
 */
export function greatestWidth(region: Region): number {
  const box = boxOf(region.flat());
  if (!box) return 0;
  let fits = 0;
  let tooWide = Math.min(box.maxX - box.minX, box.maxY - box.minY) / 2;
  for (let half = 0; half < 40 && tooWide - fits > 0.0025; half++) {
    const middle = (fits + tooWide) / 2;
    if (inset(region, middle).length > 0) fits = middle;
    else tooWide = middle;
  }
  return fits + tooWide;
}

/**
 * A sector of a circle as a ring, counter-clockwise, for 0 < sweep <= 360. Its corners lie outside the arc by so much
 * that its area is that of the sector, (sweep / 360) pi r^2, to rounding: with sides of at most 3 degrees by 0.023 % of
 * the radius. Parts cut from it err by less than 0.1 % of the sector.
 */
export function sectorRing(at: Point, radiusM: number, startDeg: number, sweepDeg: number): Point[] {
  const steps = Math.max(3, Math.ceil(sweepDeg / ARC_STEP_DEG));
  const step = ((sweepDeg / steps) * Math.PI) / 180;
  const cornerM = radiusM * Math.sqrt(step / Math.sin(step));
  const arc = Array.from({ length: steps + 1 }, (_, i) =>
    polar(at, cornerM, startDeg + (sweepDeg * i) / steps),
  );
  return sweepDeg < 360 ? [at, ...arc] : arc.slice(0, -1);
}

function operate(kind: ClipType, a: Region, b: Region, rule = FillRule.NonZero): Region {
  const origin = originOf(a);
  const paths = booleanOpD(
    kind,
    a.map((ring) => toPath(ring, origin)),
    b.map((ring) => toPath(ring, origin)),
    rule,
    PRECISION,
  );
  return fromPaths(paths, origin);
}

/** A corner of the region, on whole metres so that the shift costs no digits. */
function originOf(region: Region): Point {
  const [x, y] = region[0]?.[0] ?? [0, 0];
  return [Math.round(x), Math.round(y)];
}

function toPath(ring: Ring, [ox, oy]: Point): PathD {
  return ring.map(([x, y]) => ({ x: x - ox, y: y - oy }));
}

function fromPaths(paths: PathsD, [ox, oy]: Point): Region {
  return paths.map((path) => path.map(({ x, y }): Point => [x + ox, y + oy]));
}

function apart(a: Region, b: Region): boolean {
  const [one, two] = [boxOf(a.flat()), boxOf(b.flat())];
  return !one || !two || boxesApart(one, two);
}

function boxesApart(a: Box, b: Box): boolean {
  return a.maxX < b.minX || b.maxX < a.minX || a.maxY < b.minY || b.maxY < a.minY;
}
