import type { Point } from '../../base/point.ts';
import { readAcross, type Ground } from '../../derive/ground/index.ts';
import type { Frame } from './frame.ts';

/** Places across the rows in plan (v) with the distance between rows through them, on the ground, metres. */
export interface AcrossGround {
  readonly v: readonly number[];
  readonly groundM: readonly number[];
  readonly zM: readonly number[];
}

/**
 * How far apart rows lie on the ground, along a line across them. Exact on plane pieces: of parallel lines on a plane
 * that rises by gu along them and gv across, the distance is that in plan times sqrt(1 + gu^2 + gv^2) / sqrt(1 + gu^2).
 */
export function acrossGround(
  ground: Ground,
  frame: Frame,
  u: number,
  fromV: number,
  toV: number,
): AcrossGround {
  const profile = ground.profile([frame.toPlan([u, fromV]), frame.toPlan([u, toV])]);
  const v: number[] = [fromV];
  const groundM: number[] = [0];
  const heights: number[] = [profile.zM[0] ?? 0];
  for (let k = 1; k < profile.planAlong.length; k++) {
    const before = profile.planAlong[k - 1]!;
    const step = profile.planAlong[k]! - before;
    if (!(step > 0)) continue;
    const { percent, fallDeg } = ground.slopeAt(frame.toPlan([u, fromV + before + step / 2]));
    const along = (percent / 100) * Math.cos(((fallDeg - frame.directionDeg) * Math.PI) / 180);
    const factor = Math.sqrt((1 + (percent / 100) ** 2) / (1 + along * along));
    v.push(fromV + profile.planAlong[k]!);
    groundM.push(groundM.at(-1)! + step * factor);
    heights.push(profile.zM[k]!);
  }
  return { v, groundM, zM: heights };
}

export interface Spaced {
  /** Where the rows lie across, in plan, rising. */
  readonly v: readonly number[];
  /** On the ground, metres; the second in the lowest third where that is wider. */
  readonly spacingM: number;
  readonly lowerSpacingM: number | null;
}

/** A width that falls short of one more row by no more than this holds it, metres. */
const SLACK_M = 0.001;

/**
 * Rows over a width: floor(width / spacing) + 1 of them. Where the lowest third is to be wider, its ground counts for
 * less by the factor, so that rows come in equal steps of that measure. Equalised they reach from edge to edge; else
 * what is left over is shared by both edges.
 * @param lowEnd which end of the width lies low, `null` for neither
 */
export function spacedRows(
  across: AcrossGround,
  spacingM: number,
  lowerThirdFactor: number,
  lowEnd: 'first' | 'last' | null,
  equalise: boolean,
): Spaced {
  const width = across.groundM.at(-1)!;
  const factor = lowEnd === null ? 1 : lowerThirdFactor;
  const third = width / 3;
  // The width counted in rows, and back.
  const corners: Point[] =
    lowEnd === 'first'
      ? [
          [0, 0],
          [third, third / (factor * spacingM)],
          [width, third / (factor * spacingM) + (width - third) / spacingM],
        ]
      : [
          [0, 0],
          [width - third, (width - third) / spacingM],
          [width, (width - third) / spacingM + third / (factor * spacingM)],
        ];
  const steps = corners.map(([, step]) => step);
  const places = corners.map(([place]) => place);
  const whole = steps.at(-1)!;
  const gaps = Math.floor(whole + SLACK_M / spacingM);
  const isStretched = equalise && gaps > 0;
  const stretch = isStretched ? whole / gaps : 1;
  const first = isStretched ? 0 : Math.max(0, (whole - gaps) / 2);
  const v = Array.from({ length: gaps + 1 }, (_, i) =>
    readAcross(across.groundM, across.v, readAcross(steps, places, Math.min(whole, first + i * stretch))),
  );
  return {
    v,
    spacingM: spacingM * stretch,
    lowerSpacingM: factor > 1 ? spacingM * stretch * factor : null,
  };
}

/** Ground that rises across the rows by less than this share has no lowest third. */
const LEAST_RISE = 0.01;

/** Which end of the ground across the rows lies low: by the heights at a sixth and five sixths of it. */
export function lowEndOf({ groundM, zM }: AcrossGround): 'first' | 'last' | null {
  const width = groundM.at(-1)!;
  const rise = readAcross(groundM, zM, (5 * width) / 6) - readAcross(groundM, zM, width / 6);
  if (Math.abs(rise) < (LEAST_RISE * width * 2) / 3) return null;
  return rise > 0 ? 'first' : 'last';
}
