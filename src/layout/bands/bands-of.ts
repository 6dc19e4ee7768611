import {
  closed,
  difference,
  intersection,
  regionArea,
  regionOf,
  union,
  type Region,
} from '../../base/clip.ts';
import { boxOf, type Path, type Point, type Ring } from '../../base/point.ts';
import { distanceToRing, polygonContains } from '../../base/polygon.ts';
import { pointAlong } from '../../base/polyline.ts';
import { bad, good, type Result } from '../../base/result.ts';
import { clippedRing } from '../../derive/ground/clip.ts';
import { boxRing, type Face } from '../../derive/ground/faces.ts';
import { groundOf, type Ground } from '../../derive/ground/index.ts';
import { bandCount } from '../../derive/slopes/band-count.ts';
import { headToKpa } from '../../hydraulics/index.ts';
import type { Plan } from '../../plan/records.ts';
import { componentsOf } from '../rows/components.ts';
import { faceAbove } from './face-above.ts';

/** A place with its height. */
export interface Spot {
  readonly at: Point;
  readonly zM: number;
}

/** Ground in one piece: an outline with what lies within it and does not belong to it. */
export interface BandPart {
  readonly outline: Ring;
  readonly holes: readonly Ring[];
  readonly areaM2: number;
}

/** The part of a bed between two heights; the lowest is number 1. */
export interface Band {
  readonly number: number;
  /** Heights between which it lies, metres above the plan's datum. */
  readonly fromM: number;
  readonly toM: number;
  /** More than one where the ground comes back to the same height. */
  readonly parts: readonly BandPart[];
  /** In plan, m2. */
  readonly areaM2: number;
  /** Its highest less its lowest place, metres, and the pressure of so much water, kPa. */
  readonly riseM: number;
  readonly pressureKpa: number;
  /** Its base, where a header enters and a check valve is advised; where it freezes water is let out there. */
  readonly lowest: Spot;
  /** Where an air relief is advised. */
  readonly highest: Spot;
}

export interface Bands {
  /** Lowest first. */
  readonly bands: readonly Band[];
  readonly lowest: Spot;
  readonly highest: Spot;
  readonly riseM: number;
  /** The contour lines between the bands, within the bed. */
  readonly lines: readonly Path[];
  /** Whether some of the bed lies beyond the levels, where the slope is carried on. */
  readonly isOutside: boolean;
}

export interface BandsAsk {
  /** Most that a band may rise, metres; `null`: as is usual (`bandCount`). */
  readonly riseM: number | null;
}

/** More bands than this are not made: each is a zone of its own. */
export const MOST_BANDS = 24;
/** Rises under this are no slope to split, metres. */
export const LEAST_RISE_M = 0.05;
/** A part smaller than this holds no row, and goes to the band beside it, m2. */
const LEAST_PART_M2 = 0.1;
/** Gaps between pieces of ground that were put together, metres. */
const GAP_M = 1e-4;
const ON_EDGE_M = 1e-3;

/**
 * The bands of equal rise into which a bed is split along contour lines: the bed less its holes, cut exactly where the
 * plane pieces of the ground have the heights between. Parts under 0.1 m2 go to the band beside. Fails where there is no
 * such bed, nothing says how the ground slopes, or the bed is as good as level; and where it would take over 24 bands.
 */
export function bandsOf(
  plan: Pick<Plan, 'areas' | 'levels' | 'falls'>,
  areaId: string,
  { riseM }: BandsAsk,
): Result<Bands> {
  const where = `areas[${areaId}]`;
  const bed = plan.areas.get(areaId);
  if (!bed || bed.use !== 'bed') return bad(where, 'There is no such bed', 'Choose a bed');
  const ground = groundOf(plan);
  if (ground.knows !== 'slope')
    return bad(where, 'Nothing says how the ground slopes', 'Set levels or falls in Survey, under Ground');
  if (riseM !== null && !(riseM > 0))
    return bad(where, 'A band has to rise by more than nothing', 'Type how much a band may rise');
  const region = regionOf(bed.outline, bed.holes);
  const extremes = extremesOf(ground, region);
  if (!extremes || !(regionArea(region) > 0))
    return bad(where, 'The bed has no area', 'Draw its outline again in Survey');
  const { lowest, highest } = extremes;
  const wholeM = highest.zM - lowest.zM;
  if (wholeM < LEAST_RISE_M) return bad(where, 'The bed is level', 'A level bed needs no bands');
  const count = bandCount(wholeM, riseM);
  if (count > MOST_BANDS)
    return bad(where, `It would take ${count} bands`, `Let a band rise by more: ${MOST_BANDS} bands at most`);

  const faces = facesOver(ground, region);
  const heights = Array.from({ length: count + 1 }, (_, k) => lowest.zM + (k / count) * wholeM);
  let rest = region;
  const cut = heights.slice(1, -1).map((heightM): Region => {
    const above = groundAbove(faces, heightM);
    const below = difference(rest, above);
    rest = intersection(rest, above);
    return below;
  });
  const regions = withCuttingsJoined([...cut, rest]);
  const bands = regions.flatMap((own, k): Omit<Band, 'number'>[] => {
    const ends = extremesOf(ground, own);
    if (!ends) return [];
    const bandM = ends.highest.zM - ends.lowest.zM;
    return [
      {
        fromM: heights[k]!,
        toM: heights[k + 1]!,
        parts: componentsOf(own)
          .map(partOf)
          .toSorted((a, b) => b.areaM2 - a.areaM2),
        areaM2: regionArea(own),
        riseM: bandM,
        pressureKpa: headToKpa(bandM),
        ...ends,
      },
    ];
  });
  return good({
    bands: bands.map((band, i): Band => ({ number: i + 1, ...band })),
    lowest,
    highest,
    riseM: wholeM,
    lines: regions.slice(1).flatMap((own, k) => linesBetween(own, region, ground, heights[k + 1]!)),
    isOutside: faces.some(
      ({ how, ring }) => how !== 'inside' && regionArea(intersection([ring], region)) > LEAST_PART_M2,
    ),
  });
}

const partOf = ([outline, ...holes]: Region): BandPart => ({
  outline: outline!,
  holes,
  areaM2: regionArea([outline!, ...holes]),
});

/** The plane pieces under a region, as far as they lie in its box. */
function facesOver(ground: Ground, region: Region): readonly Face[] {
  const box = boxOf(region.flat())!;
  const frame = boxRing({
    minX: box.minX - 1,
    minY: box.minY - 1,
    maxX: box.maxX + 1,
    maxY: box.maxY + 1,
  });
  return ground.faces(box).flatMap((face): Face[] => {
    const ring = clippedRing(face.ring, frame);
    if (ring.length < 3) return [];
    const [x, y] = face.ring[0]!;
    const zM = ring.map(
      ([px, py]) => face.zM[0]! + face.gradient[0] * (px - x) + face.gradient[1] * (py - y),
    );
    return [{ ...face, ring, zM }];
  });
}

function groundAbove(faces: readonly Face[], heightM: number): Region {
  const pieces = faces.flatMap((face): Region[] => {
    const ring = faceAbove(face, heightM);
    return ring.length < 3 ? [] : [[ring]];
  });
  return closed(union(pieces), GAP_M);
}

/** Lowest and highest place: on the edge, wherever the slope changes there, or at a level within. */
function extremesOf(ground: Ground, region: Region): { lowest: Spot; highest: Spot } | null {
  const found: Spot[] = [];
  for (const ring of region) {
    const around = [...ring, ring[0]!];
    const { planAlong, zM } = ground.profile(around);
    const [low, high] = [indexOfLeast(zM, 1), indexOfLeast(zM, -1)];
    for (const i of [low, high]) found.push({ at: pointAlong(around, planAlong[i]!), zM: zM[i]! });
  }
  for (const [outline, ...holes] of componentsOf(region)) {
    for (const { x, y, zM } of ground.linked.spots)
      if (polygonContains(outline!, holes, [x, y])) found.push({ at: [x, y], zM });
  }
  if (found.length === 0) return null;
  const heights = found.map(({ zM }) => zM);
  return { lowest: found[indexOfLeast(heights, 1)]!, highest: found[indexOfLeast(heights, -1)]! };
}

/** Index of the first of the least, or with sign -1 of the greatest, values. */
function indexOfLeast(values: readonly number[], sign: 1 | -1): number {
  let least = 0;
  values.forEach((value, i) => {
    if (sign * value < sign * values[least]!) least = i;
  });
  return least;
}

/** Small parts that fell off go to the band below, else above, that they lie against. */
function withCuttingsJoined(given: readonly Region[]): readonly Region[] {
  const regions = [...given];
  regions.forEach((region, k) => {
    for (const part of componentsOf(region)) {
      if (regionArea(part) >= LEAST_PART_M2) continue;
      for (const beside of [k - 1, k + 1]) {
        const other = regions[beside];
        if (!other || other.length === 0) continue;
        const joined = closed(union([other, part]), GAP_M);
        if (componentsOf(joined).length > componentsOf(other).length) continue;
        regions[beside] = joined;
        regions[k] = difference(regions[k]!, part);
        break;
      }
    }
  });
  return regions;
}

/** What of a band's edge is no edge of the bed and lies at its lower height. */
function linesBetween(own: Region, bed: Region, ground: Ground, heightM: number): Path[] {
  const lines: Path[] = [];
  for (const ring of own) {
    let line: Point[] = [];
    const end = (): void => {
      if (line.length > 1) lines.push(line);
      line = [];
    };
    ring.forEach((a, i) => {
      const b = ring[(i + 1) % ring.length]!;
      const middle: Point = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
      const isInner =
        Math.abs(ground.heightAt(middle).zM - heightM) < 10 * ON_EDGE_M &&
        bed.every((edge) => distanceToRing(edge, middle) > ON_EDGE_M);
      if (!isInner) return end();
      if (line.length === 0) line.push(a);
      line.push(b);
    });
    end();
  }
  return lines;
}
