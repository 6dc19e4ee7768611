import { regionOf, sectorRing, type Region, NOWHERE } from '../../../base/clip.ts';
import { polar, type Point } from '../../../base/point.ts';
import type { HeadPattern } from '../../../plan/records.ts';

/** Outline of the ground that a head wets, as a closed ring for drawing; `null` when the pattern does not say where. */
export function patternOutline(at: Point, pattern: HeadPattern): Point[] | null {
  if (pattern.kind === 'strip') return stripOutline(at, pattern);
  const sector = sectorOf(pattern);
  if (!sector) return null;
  const { startDeg, sweepDeg } = sector;
  const steps = Math.max(2, Math.ceil(sweepDeg / 5));
  const arc = Array.from({ length: steps + 1 }, (_, i) =>
    polar(at, pattern.radiusM, startDeg + (sweepDeg * i) / steps),
  );
  return sweepDeg < 360 ? [at, ...arc] : arc.slice(0, -1);
}

/** Area of the ground that a pattern wets where nothing stands in its way, m2: (sweep / 360) pi r^2, or length x width. */
export function patternArea(pattern: HeadPattern): number {
  if (pattern.kind === 'strip') return Math.max(0, pattern.lengthM * pattern.widthM);
  const sector = sectorOf(pattern);
  return sector ? (sector.sweepDeg / 360) * Math.PI * pattern.radiusM ** 2 : 0;
}

/** The same ground as a region whose area is that of the pattern; nothing when the pattern does not say where. */
export function patternRegion(at: Point, pattern: HeadPattern): Region {
  if (pattern.kind === 'strip') {
    const outline = stripOutline(at, pattern);
    return outline && patternArea(pattern) > 0 ? regionOf(outline) : NOWHERE;
  }
  const sector = sectorOf(pattern);
  // A sector's ring runs counter-clockwise and never crosses itself: it is a region as it stands.
  return sector ? [sectorRing(at, pattern.radiusM, sector.startDeg, sector.sweepDeg)] : NOWHERE;
}

type Sector = Extract<HeadPattern, { kind: 'sector' }>;

/** Start and sweep, the sweep above 0 and at most 360; `null` for a sector without area. */
function sectorOf({
  radiusM,
  startDeg,
  sweepDeg,
}: Sector): { readonly startDeg: number; readonly sweepDeg: number } | null {
  const sweep = Math.min(360, Math.abs(sweepDeg));
  if (!(radiusM > 0 && sweep > 0)) return null;
  return { startDeg: sweepDeg < 0 ? startDeg - sweep : startDeg, sweepDeg: sweep };
}

type Strip = Extract<HeadPattern, { kind: 'strip' }>;

function stripOutline(at: Point, { lengthM, widthM, directionDeg }: Strip): Point[] | null {
  if (directionDeg === null) return null;
  const corner = (u: number, v: number): Point =>
    polar(polar(at, (u * lengthM) / 2, directionDeg), (v * widthM) / 2, directionDeg + 90);
  return [corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)];
}
