import { memo } from '../../base/memo.ts';
import { polygonArea, ringArea } from '../../base/polygon.ts';
import { boxOf, type Box, type Ring } from '../../base/point.ts';
import type { Area, Plan } from '../../plan/records.ts';
import { clippedRing } from './clip.ts';
import { facePercent, sharedArea, type Face } from './faces.ts';
import { groundOf } from './index.ts';

/**
 * Slopes at which one class ends and the next begins, percent. 5, 8, 12 and 16 are those of tables of soil intake by
 * slope; above 25 landscape ordinances ask for low-volume irrigation; 40 and more is hard to stand on (common practice).
 */
export const SLOPE_LIMITS = [5, 8, 12, 16, 25, 40] as const;
export const SLOPE_CLASSES_SOURCE =
  '5, 8, 12 and 16 percent: tables of soil intake by slope, as in irrigation audit handbooks; 25 percent: limit of landscape ordinances above which low-volume irrigation is asked for; 40 percent: common practice';

/** Slopes are shown to a tenth of a percent: what reads as the limit is on it. */
const AS_SHOWN = 0.05;

/** The class of a slope, 0 for the flattest. A slope that reads as a limit belongs to the flatter class. */
export function slopeClassOf(percent: number): number {
  const index = SLOPE_LIMITS.findIndex((limit) => percent < limit + AS_SHOWN);
  return index < 0 ? SLOPE_LIMITS.length : index;
}

/** How much of the beds slopes between two limits. */
export interface SlopeClass {
  /** Percent; `to` is infinite in the last class. */
  readonly from: number;
  readonly to: number;
  /** Area in plan, m2. */
  readonly areaM2: number;
  /** Share of the area of all beds, 0 to 1. */
  readonly share: number;
}

/** A part of a bed that slopes one way. */
export interface SlopePiece {
  readonly bedId: string;
  /** Outline first, then what holes take out of it; filled even-odd. */
  readonly rings: readonly Ring[];
  readonly areaM2: number;
  readonly percent: number;
  readonly outside: boolean;
}

export interface BedSlopes {
  /** All classes, from flat to steep. */
  readonly classes: readonly SlopeClass[];
  readonly areaM2: number;
  /** Mean by area, percent. */
  readonly meanPercent: number;
  readonly steepestPercent: number;
  /** Beds of which some part lies beyond the levels, and which share of each. */
  readonly outside: readonly { readonly bedId: string; readonly share: number }[];
}

/** Parts of a bed smaller than this are cuttings at its edge, m2. */
const CUTTING_M2 = 0.01;
/** A bed lies outside when more than this share of it does. */
const OUTSIDE_SHARE = 0.05;

/** The slopes of the beds; null while there is no bed, or nothing is known of the slope. */
export function bedSlopes({
  levels,
  falls,
  areas,
}: Pick<Plan, 'levels' | 'falls' | 'areas'>): BedSlopes | null {
  return remembered(levels, falls, areas);
}

/** Share of the beds' area in each slope class; empty while there is no bed, or nothing is known of the slope. */
export function slopeClassesOf(plan: Pick<Plan, 'levels' | 'falls' | 'areas'>): readonly SlopeClass[] {
  return bedSlopes(plan)?.classes ?? [];
}

const bedsOf = (areas: Iterable<Area>) =>
  [...areas].filter(({ use, outline }) => use === 'bed' && outline.length >= 3);

const remembered = memo(
  (levels: Plan['levels'], falls: Plan['falls'], areas: Plan['areas']): BedSlopes | null => {
    const ground = groundOf({ levels, falls });
    const beds = bedsOf(areas);
    if (beds.length === 0 || ground.knows !== 'slope') return null;
    const sums = new Array<number>(SLOPE_LIMITS.length + 1).fill(0);
    const outside: { bedId: string; share: number }[] = [];
    let areaM2 = 0;
    let weighted = 0;
    let steepestPercent = 0;
    for (const bed of beds) {
      let bedM2 = 0;
      let outsideM2 = 0;
      for (const face of facesUnder(bed, ground.faces)) {
        const m2 = sharedArea(bed.outline, bed.holes, face);
        const percent = facePercent(face);
        bedM2 += m2;
        weighted += m2 * percent;
        sums[slopeClassOf(percent)]! += m2;
        if (face.how === 'outside') outsideM2 += m2;
        if (m2 > CUTTING_M2) steepestPercent = Math.max(steepestPercent, percent);
      }
      areaM2 += bedM2;
      const share = outsideM2 / bedM2;
      if (share > OUTSIDE_SHARE) outside.push({ bedId: bed.id, share });
    }
    if (!(areaM2 > 0)) return null;
    return {
      classes: sums.map((m2, i) => ({
        from: i === 0 ? 0 : SLOPE_LIMITS[i - 1]!,
        to: SLOPE_LIMITS[i] ?? Infinity,
        areaM2: m2,
        share: m2 / areaM2,
      })),
      areaM2,
      meanPercent: weighted / areaM2,
      steepestPercent,
      outside,
    };
  },
);

/** The beds cut up where the ground bends, for drawing. */
export function slopePieces({
  levels,
  falls,
  areas,
}: Pick<Plan, 'levels' | 'falls' | 'areas'>): SlopePiece[] {
  const ground = groundOf({ levels, falls });
  if (ground.knows !== 'slope') return [];
  return bedsOf(areas).flatMap((bed) =>
    facesUnder(bed, ground.faces).flatMap((face): SlopePiece[] => {
      const rings = [bed.outline, ...bed.holes]
        .map((ring) => clippedRing(ring, face.ring))
        .filter((ring) => Math.abs(ringArea(ring)) > 0);
      const areaM2 = rings.length > 0 ? polygonArea(rings[0]!, rings.slice(1)) : 0;
      if (!(areaM2 > 1e-6)) return [];
      return [{ bedId: bed.id, rings, areaM2, percent: facePercent(face), outside: face.how === 'outside' }];
    }),
  );
}

function facesUnder(bed: Area, faces: (box: Box) => readonly Face[]): Face[] {
  const box = boxOf(bed.outline)!;
  return faces(box).filter(({ ring }) => {
    const own = boxOf(ring)!;
    return own.minX <= box.maxX && own.maxX >= box.minX && own.minY <= box.maxY && own.maxY >= box.minY;
  });
}
