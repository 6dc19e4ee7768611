import { memo } from '../base/memo.ts';
import { distance, type Point } from '../base/point.ts';
import type { PhotoMeasure, SitePhoto } from '../plan/records.ts';
import type { Notice } from './results.ts';

/** One measured line against the fitted scale. */
export interface FittedLine {
  readonly role: PhotoMeasure['role'];
  /** As measured on the ground, and as the scale gives it, metres. */
  readonly lengthM: number;
  readonly fittedM: number;
  /** Fitted less measured; NaN where the line cannot be used. */
  readonly residualM: number;
  readonly residualPercent: number;
}

/** The scale of the site photo and how well the measured lines agree with it. */
export interface PhotoFit {
  readonly metresPerPixel: number;
  /** Whether at least one measured line fixes the scale; until then the assumed width does. */
  readonly scaled: boolean;
  /** In the order of the photo's measures. */
  readonly lines: readonly FittedLine[];
  /** Largest deviations over all usable lines, without sign; 0 without lines. */
  readonly worstPercent: number;
  readonly worstM: number;
  readonly warnings: readonly Notice[];
}

/** Deviation above which the photo does not do for scaling, percent (common practice). */
export const RESIDUAL_LIMIT_PERCENT = 2;
/** Two fit lines nearer in direction than this cannot show that a photo is stretched, degrees. */
const LEAST_ANGLE_DEG = 30;
/** On a shorter line one pixel is more than one percent. */
const SHORT_PX = 100;
const NONE_PX = 1;

/**
 * One scale for the whole photo by least squares on the relative errors of the `fit` lines. The `check` line takes
 * no part in the fit but is held against it.
 */
export const fitPhoto: (photo: SitePhoto) => PhotoFit = memo((photo: SitePhoto): PhotoFit => {
  const measured = photo.measures.map((measure) => ({
    ...measure,
    lengthPx: distance(measure.a, measure.b),
  }));
  const isUsable = (line: (typeof measured)[number]): boolean =>
    line.lengthPx >= NONE_PX && line.lengthM > 0 && Number.isFinite(line.lengthM);
  const fitting = measured.filter((line) => line.role === 'fit' && isUsable(line));
  // Least of the sum of (s px / m - 1)^2.
  let sum = 0;
  let squares = 0;
  for (const { lengthPx, lengthM } of fitting) {
    sum += lengthPx / lengthM;
    squares += (lengthPx / lengthM) ** 2;
  }
  const scaled = fitting.length > 0;
  const metresPerPixel = scaled ? sum / squares : photo.assumedWidthM / Math.max(1, photo.widthPx);
  const lines = measured.map((line): FittedLine => {
    const fittedM = line.lengthPx * metresPerPixel;
    const usable = isUsable(line);
    return {
      role: line.role,
      lengthM: line.lengthM,
      fittedM,
      residualM: usable ? fittedM - line.lengthM : NaN,
      residualPercent: usable ? (100 * (fittedM - line.lengthM)) / line.lengthM : NaN,
    };
  });
  const worst = (values: readonly number[]): number =>
    values.reduce((most, value) => (Math.abs(value) > most ? Math.abs(value) : most), 0);
  const held = scaled ? lines : [];
  const worstPercent = worst(held.map((line) => line.residualPercent));
  return {
    metresPerPixel,
    scaled,
    lines,
    worstPercent,
    worstM: worst(held.map((line) => line.residualM)),
    warnings: warningsOf(measured, fitting, worstPercent),
  };
});

interface MeasuredLine extends PhotoMeasure {
  readonly lengthPx: number;
}

function warningsOf(
  measured: readonly MeasuredLine[],
  fitting: readonly MeasuredLine[],
  worstPercent: number,
): Notice[] {
  const warnings: Notice[] = [];
  const warn = (rule: string, severity: Notice['severity'], message: string): void => {
    warnings.push({ rule, severity, message, refs: [], source: 'common practice' });
  };
  measured.forEach(({ lengthPx, lengthM, role }, i) => {
    const line = `${role === 'fit' ? 'Measured line' : 'Check line'} ${i + 1} of the photo`;
    if (!(lengthPx >= NONE_PX)) {
      warn(
        'photo-line-no-length',
        'warning',
        `${line} begins and ends in one place and is not used: mark it again.`,
      );
    } else if (!(lengthM > 0)) {
      warn(
        'photo-line-no-measure',
        'warning',
        `${line} has no measured length above zero and is not used: type it.`,
      );
    } else if (lengthPx < SHORT_PX) {
      warn(
        'photo-line-short',
        'warning',
        `${line} is so short on the photo that a slip of one pixel is more than one percent: measure a longer one.`,
      );
    }
  });
  if (fitting.length === 0) {
    warn(
      'photo-not-scaled',
      'warning',
      'The photo has no measured line yet: its scale is only assumed. Measure two lines at about right angles, and a third one to check.',
    );
  } else if (!fitting.some((a, i) => fitting.slice(i + 1).some((b) => angleDeg(a, b) >= LEAST_ANGLE_DEG))) {
    warn(
      'photo-stretch-unseen',
      'info',
      fitting.length === 1
        ? 'One measured line cannot show whether the photo is stretched: measure a second one at about a right angle.'
        : 'The measured lines of the photo run nearly the same way, so that a stretch across them stays unseen: measure one at about a right angle.',
    );
  }
  if (worstPercent > RESIDUAL_LIMIT_PERCENT) {
    warn(
      'photo-residual',
      'warning',
      `The measured lines disagree with one scale of the photo by up to ${worstPercent.toFixed(1)} %, more than ${RESIDUAL_LIMIT_PERCENT} %: measure again, or flatten the photo if it was taken at a slant.`,
    );
  }
  return warnings;
}

/** Angle between two lines without regard to their sense, 0 to 90 degrees. */
function angleDeg(a: MeasuredLine, b: MeasuredLine): number {
  const cross = (a.b[0] - a.a[0]) * (b.b[1] - b.a[1]) - (a.b[1] - a.a[1]) * (b.b[0] - b.a[0]);
  const dot = (a.b[0] - a.a[0]) * (b.b[0] - b.a[0]) + (a.b[1] - a.a[1]) * (b.b[1] - b.a[1]);
  return (Math.atan2(Math.abs(cross), Math.abs(dot)) * 180) / Math.PI;
}

/** A pixel of the photo (from its upper left corner, y down) on the plan, metres. */
export function photoToPlan(photo: SitePhoto, px: Point): Point {
  const { metresPerPixel } = fitPhoto(photo);
  const turn = (photo.turnDeg * Math.PI) / 180;
  const x = px[0] * metresPerPixel;
  const y = -px[1] * metresPerPixel;
  return [
    photo.corner[0] + x * Math.cos(turn) - y * Math.sin(turn),
    photo.corner[1] + x * Math.sin(turn) + y * Math.cos(turn),
  ];
}

/** A place on the plan as a pixel of the photo; may lie outside it. */
export function planToPhoto(photo: SitePhoto, p: Point): Point {
  const { metresPerPixel } = fitPhoto(photo);
  const turn = (photo.turnDeg * Math.PI) / 180;
  const x = p[0] - photo.corner[0];
  const y = p[1] - photo.corner[1];
  return [
    (x * Math.cos(turn) + y * Math.sin(turn)) / metresPerPixel,
    -(-x * Math.sin(turn) + y * Math.cos(turn)) / metresPerPixel,
  ];
}
