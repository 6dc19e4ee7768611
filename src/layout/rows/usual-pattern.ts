import { inset, regionArea } from '../../base/clip.ts';
import { boxOf, type Point } from '../../base/point.ts';
import { polygonContains } from '../../base/polygon.ts';
import { blankLike, HALF_INCH_LIMIT, tubingFor } from '../../catalog/index.ts';
import { groundOf, type Ground } from '../../derive/ground/index.ts';
import type { Area, Plan } from '../../plan/records.ts';
import { openGround } from './bed-scene.ts';
import type { FillChoices, FillPattern } from './choices.ts';
import { OFF_CONTOUR } from './figures.ts';
import { angleBetween, contourDeg, meanGradient } from './frame.ts';
import { stripWidth } from './loop-lines.ts';
import { NARROW } from './loops.ts';

/** Places looked at along either side of the bed's box. */
const PLACES = 16;
/** Rows follow the contour's turns where more than this share of the steep ground lies off the straight contour. */
const TURNED_SHARE = 0.2;

export interface UsualPattern {
  readonly pattern: FillPattern;
  readonly source: string;
}

/**
 * How a bed is usually filled: loops where it is narrow; curved rows on a slope whose contour turns, more than 15 degrees
 * off its mean on more than a fifth of the steep ground; else straight rows.
 */
export function usualPattern(
  plan: Plan,
  bed: Area,
  isSlope: boolean,
  { rowSpacingM, edgeM }: Pick<FillChoices, 'rowSpacingM' | 'edgeM'>,
): UsualPattern {
  const region = inset(openGround(plan, bed, []), edgeM);
  const width = region.length > 0 ? stripWidth(region) : Infinity;
  if (width < NARROW.spacings * rowSpacingM - 2 * edgeM) return { pattern: 'loops', source: NARROW.source };
  const ground = groundOf(plan);
  if (isSlope && turnedShare(ground, bed) > TURNED_SHARE)
    return { pattern: 'curved', source: OFF_CONTOUR.source };
  return { pattern: 'straight', source: 'common practice: rows parallel to the long edge or the contour' };
}

/** Share of a bed's steep ground on which the contour runs off that of the bed as a whole. */
function turnedShare(ground: Ground, bed: Area): number {
  const box = boxOf(bed.outline);
  const mean = contourDeg(meanGradient(ground, bed));
  if (!box) return 0;
  let [steep, turned] = [0, 0];
  for (let i = 0; i < PLACES; i++)
    for (let j = 0; j < PLACES; j++) {
      const at: Point = [
        box.minX + ((i + 0.5) * (box.maxX - box.minX)) / PLACES,
        box.minY + ((j + 0.5) * (box.maxY - box.minY)) / PLACES,
      ];
      if (!polygonContains(bed.outline, bed.holes, at)) continue;
      const { percent, fallDeg } = ground.slopeAt(at);
      if (percent <= OFF_CONTOUR.percent) continue;
      steep += 1;
      if (mean === null || angleBetween(fallDeg + 90, mean) > OFF_CONTOUR.deg) turned += 1;
    }
  return steep > 0 ? turned / steep : 0;
}

/**
 * Header tubing that carries the flow of a bed at the usual density of emitters: of one size with the dripline where
 * that will do, so that one kind of fitting holds both; else the next wider, to which reducing tees are made.
 */
export function usualHeader(
  plan: Plan,
  bed: Area,
  slopePercent: number | null,
  {
    rowSpacingM,
    emitterSpacingM,
    ratedFlowLph,
    tubing,
  }: Pick<FillChoices, 'rowSpacingM' | 'emitterSpacingM' | 'ratedFlowLph' | 'tubing'>,
): { readonly tubing: string; readonly flowLph: number; readonly source: string } {
  const onGround = regionArea(openGround(plan, bed, [])) * Math.hypot(1, (slopePercent ?? 0) / 100);
  const flowLph = (onGround / (rowSpacingM * emitterSpacingM)) * ratedFlowLph;
  const blank = tubingFor('blank');
  const half = blankLike(tubing) ?? blank[0]!;
  const wider = blank.find(({ innerDiameterMm }) => innerDiameterMm > half.innerDiameterMm + 2);
  return {
    tubing: flowLph > HALF_INCH_LIMIT.flowLph && wider ? wider.id : half.id,
    flowLph,
    source: `${HALF_INCH_LIMIT.source}; the dripline's own size, for one kind of fitting: common practice`,
  };
}
