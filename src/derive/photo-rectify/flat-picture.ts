import {
  chained,
  determinant,
  growthAt,
  homographyFrom,
  inverted,
  mapped,
  scaling,
  weightAt,
  type Homography,
} from '../../base/homography.ts';
import { between, boxOf, distance, type Box, type Point } from '../../base/point.ts';
import { bad, good, type Result } from '../../base/result.ts';
import type { PhotoMeasure, Rectification } from '../../plan/records.ts';
import { groundFigure, type HeldLength } from './figure.ts';

/** A picture laid flat: its size, the way from pixels of the picture as taken to its own and back, and how well all agrees. */
export interface FlatPicture {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly pixelsPerMetre: number;
  /** From a pixel of the picture as taken to one of the flat picture. */
  readonly toFlat: Homography;
  /** From a pixel of the flat picture to one of the picture as taken. */
  readonly toSource: Homography;
  /** Measured sides and diagonals against the figure, and lines that were on the photo before against the flat picture. */
  readonly lengths: readonly HeldLength[];
  /** The length that fits worst; null where none can disagree. */
  readonly worst: HeldLength | null;
  /** Lengths of the diagonals in the figure, metres, whether measured or not. */
  readonly diagonalsM: readonly [number, number];
  /** Part of the picture as taken that is left out since the ground there runs off towards the horizon, 0 to 1. */
  readonly leftOut: number;
}

/** Sides and area of the flat picture; the first is also the longest side of any stored picture. */
const LONGEST_SIDE_PX = 4096;
const MOST_PIXELS = 16e6;
/**
 * How far towards the horizon the picture is used: to where a pixel of it is this many metres of ground, the width of a
 * spray head, but at least to twice and at most to eight times what it is at the farthest mark.
 */
const COARSEST_M = 0.05;
const COARSER = { least: 2, most: 8 } as const;
/**
 * A nearer limit is taken where the far ground would make the flat picture so large that it loses more than half of the
 * marks' sharpness and a pixel of it is more than a centimetre besides.
 */
const NEARER = [4, 2, 1.5, 1.2];
const ENOUGH_SHARPNESS = 0.5;
const ENOUGH_PIXELS_PER_METRE = 100;

/**
 * How a picture is laid flat. The same rectification always gives the same answer, so that pixels of a flat picture
 * can be led back to the picture as taken at any later time.
 * @param lines lines measured on the picture as taken, in its pixels; they are only held against the result
 */
export function layFlat(
  { source, marks, sidesM, diagonalsM }: Rectification,
  lines: readonly PhotoMeasure[] = [],
): Result<FlatPicture> {
  for (const [i, [x, y]] of marks.entries()) {
    if (!(x >= 0 && y >= 0 && x <= source.widthPx && y <= source.heightPx)) {
      return bad(
        `mark ${i + 1}`,
        `Mark ${i + 1} lies outside the picture as taken.`,
        'Drag it to a place that shows there.',
      );
    }
  }
  const figure = groundFigure({ marks, sidesM, diagonalsM });
  if (!figure.ok) return figure;
  const { corners } = figure.value;
  const found = homographyFrom(marks, corners);
  if (!found.ok) return found;
  const ground = found.value;
  const weights = marks.map((mark) => weightAt(ground, mark));
  if (!weights.every((weight) => weight > 0)) {
    return bad(
      'horizon',
      'By the marks and lengths the horizon would run between the marks.',
      'Check the order of the marks and the lengths between them.',
    );
  }

  const steps = marks.map((mark) => growthAt(ground, mark));
  const frame = frameOf(ground, source, Math.min(...weights), Math.max(...steps), 1 / Math.min(...steps));
  if (!frame) {
    return bad(
      'marks',
      'The flat picture would have no pixels.',
      'Check that the lengths are in the right unit.',
    );
  }
  const { box, pixelsPerMetre, widthPx, heightPx, leftOut } = frame;
  const toFlat = chained(
    ground,
    scaling(pixelsPerMetre, -box.minX * pixelsPerMetre, -box.minY * pixelsPerMetre),
  );
  const held = lines.flatMap(({ a, b, lengthM }, line): HeldLength[] => {
    const seen = weightAt(ground, a) > 0 && weightAt(ground, b) > 0 && lengthM > 0 && distance(a, b) >= 1;
    if (!seen) return [];
    const fittedM = distance(mapped(ground, a), mapped(ground, b));
    const residualPercent = (100 * (fittedM - lengthM)) / lengthM;
    return [{ of: { kind: 'line', line }, measuredM: lengthM, fittedM, residualPercent }];
  });
  const lengths = [...figure.value.lengths, ...held];
  const free = diagonalsM.every((m) => m !== null) || held.length > 0;
  return good({
    widthPx,
    heightPx,
    pixelsPerMetre,
    toFlat,
    toSource: inverted(toFlat),
    lengths,
    worst: free
      ? lengths.reduce((worst, one) =>
          Math.abs(one.residualPercent) > Math.abs(worst.residualPercent) ? one : worst,
        )
      : null,
    diagonalsM: [distance(corners[0], corners[2]), distance(corners[1], corners[3])],
    leftOut,
  });
}

interface Frame {
  readonly box: Box;
  readonly pixelsPerMetre: number;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly leftOut: number;
}

/**
 * Box on the ground of the part of the picture that is used, and the pixels for it.
 * @param farthest weight at the farthest mark
 * @param coarse metres per pixel of the picture there
 * @param sharpest pixels per metre at the nearest mark
 */
function frameOf(
  ground: Homography,
  { widthPx, heightPx }: Rectification['source'],
  farthest: number,
  coarse: number,
  sharpest: number,
): Frame | null {
  const whole: Point[] = [
    [0, 0],
    [widthPx, 0],
    [widthPx, heightPx],
    [0, heightPx],
  ];
  let best: Frame | null = null;
  const { least, most } = COARSER;
  const coarsest = Math.min(most, Math.max(least, COARSEST_M / coarse));
  for (const coarser of [coarsest, ...NEARER.filter((factor) => factor < coarsest)]) {
    // Lengths grow by the power 3/2 of what the weight falls by.
    const used = before(ground, whole, farthest / coarser ** (2 / 3));
    const box = boxOf(used.map((p) => mapped(ground, p)));
    if (!box) continue;
    const across = box.maxX - box.minX;
    const down = box.maxY - box.minY;
    const pixelsPerMetre = Math.min(
      sharpest,
      LONGEST_SIDE_PX / across,
      LONGEST_SIDE_PX / down,
      Math.sqrt(MOST_PIXELS / (across * down)),
    );
    if (!(pixelsPerMetre > 0) || !Number.isFinite(pixelsPerMetre)) continue;
    if (best && pixelsPerMetre <= best.pixelsPerMetre) continue;
    // A hair less than a whole pixel is rounding, not picture.
    const pixels = (m: number): number => Math.max(1, Math.ceil(m * pixelsPerMetre - 1e-6));
    best = {
      box,
      pixelsPerMetre,
      widthPx: pixels(across),
      heightPx: pixels(down),
      leftOut: Math.max(0, 1 - areaOf(used) / (widthPx * heightPx)),
    };
    if (pixelsPerMetre >= Math.min(ENOUGH_SHARPNESS * sharpest, ENOUGH_PIXELS_PER_METRE)) break;
  }
  return best;
}

/** The part of a convex polygon where the weight is at least `least`. */
function before(ground: Homography, polygon: readonly Point[], least: number): Point[] {
  return polygon.flatMap((a, i) => {
    const b = polygon[(i + 1) % polygon.length]!;
    const [wa, wb] = [weightAt(ground, a) - least, weightAt(ground, b) - least];
    const kept: Point[] = wa >= 0 ? [a] : [];
    return wa >= 0 === wb >= 0 ? kept : [...kept, between(a, b, wa / (wa - wb))];
  });
}

function areaOf(polygon: readonly Point[]): number {
  let twice = 0;
  polygon.forEach((a, i) => {
    const b = polygon[(i + 1) % polygon.length]!;
    twice += a[0] * b[1] - a[1] * b[0];
  });
  return Math.abs(twice) / 2;
}

/** The way from pixels of a smaller copy of the flat picture to those of a smaller copy of the picture as taken. */
export function atSize(toSource: Homography, flatScale: number, sourceScale: number): Homography {
  const map = chained(chained(scaling(1 / flatScale), toSource), scaling(sourceScale));
  return determinant(map) === 0 ? toSource : map;
}
