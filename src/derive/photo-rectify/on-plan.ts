import { chained, IDENTITY, mapped, weightAt, type Homography } from '../../base/homography.ts';
import { directionDeg, distance, type Point } from '../../base/point.ts';
import { bad, good, type Result } from '../../base/result.ts';
import type { PhotoMeasure, Rectification, SitePhoto } from '../../plan/records.ts';
import { photoToPlan } from '../photo-fit.ts';
import type { Four, Measured } from './figure.ts';
import { layFlat, type FlatPicture } from './flat-picture.ts';

/** A photo's way of being laid flat, worked out but not yet done. */
export interface Flattening {
  readonly rectification: Rectification;
  readonly flat: FlatPicture;
  /** From a pixel of the photo as it is now to one of the picture as taken. */
  readonly toTaken: Homography;
}

/** Pixels beyond this stand for places at the horizon. */
const FARTHEST_PX = 1e5;
/** An end of a measured line within this of a mark belongs to it, pixels. */
const SAME_PX = 0.5;
/** How many of the lines set the scale of a photo that is not laid flat; the others check it. */
const FIT_LINES = 2;

/**
 * The picture as taken under a photo, and the way to its pixels; the photo's own picture where it was not laid flat.
 * `null` where the way back is not known: the flat picture has another size than its marks and lengths give.
 */
export function pictureAsTaken(
  photo: SitePhoto,
): { readonly source: Rectification['source']; readonly toTaken: Homography } | null {
  const { pictureId, widthPx, heightPx, rectification } = photo;
  if (!rectification) return { source: { pictureId, widthPx, heightPx }, toTaken: IDENTITY };
  const flat = layFlat(rectification);
  if (!flat.ok || flat.value.widthPx !== widthPx || flat.value.heightPx !== heightPx) return null;
  return { source: rectification.source, toTaken: flat.value.toSource };
}

/**
 * How a photo would be laid flat by four marks on it, in its own pixels, and the lengths between them.
 * @param fromTaken whether a photo that was laid flat before is made anew from the picture as taken, which loses no
 * sharpness; that picture has to be at hand
 * @param lines lines to hold against the result besides those of the photo, in the photo's pixels
 */
export function flatteningOf(
  photo: SitePhoto,
  measured: Measured,
  fromTaken: boolean,
  lines: readonly PhotoMeasure[] = [],
): Result<Flattening> {
  const { pictureId, widthPx, heightPx } = photo;
  const taken = (fromTaken ? pictureAsTaken(photo) : null) ?? {
    source: { pictureId, widthPx, heightPx },
    toTaken: IDENTITY,
  };
  const { toTaken } = taken;
  if (!measured.marks.every((mark) => weightAt(toTaken, mark) > 0)) {
    return bad(
      'marks',
      'A mark lies beyond the picture as taken.',
      'Drag it to a place that shows on the photo.',
    );
  }
  const marks = measured.marks.map((mark) => mapped(toTaken, mark)) as unknown as Four;
  const rectification: Rectification = {
    source: taken.source,
    marks,
    sidesM: measured.sidesM,
    diagonalsM: measured.diagonalsM,
  };
  const held = [...photo.measures, ...lines].map((line) => led(line, toTaken) ?? { ...line, lengthM: 0 });
  const flat = layFlat(rectification, held);
  return flat.ok ? good({ rectification, flat: flat.value, toTaken }) : flat;
}

/** A measured line in the pixels of another picture; null where it would lie at the horizon. */
function led(line: PhotoMeasure, map: Homography): PhotoMeasure | null {
  const ends = [line.a, line.b].map((p): Point | null => {
    if (!(weightAt(map, p) > 0)) return null;
    const q = mapped(map, p);
    return q.every((value) => Math.abs(value) < FARTHEST_PX) ? q : null;
  });
  const [a, b] = ends;
  return a && b ? { ...line, a, b } : null;
}

/** The measured sides and diagonals as lines that set the scale of the flat picture. */
function figureLines({ marks, sidesM, diagonalsM }: Rectification, toFlat: Homography): PhotoMeasure[] {
  const corners = marks.map((mark) => mapped(toFlat, mark));
  const line = (from: number, to: number, lengthM: number | null): PhotoMeasure[] =>
    lengthM === null ? [] : [{ a: corners[from]!, b: corners[to]!, lengthM, role: 'fit' }];
  return [
    ...sidesM.flatMap((lengthM, i) => line(i, (i + 1) % 4, lengthM)),
    ...line(0, 2, diagonalsM[0]),
    ...line(1, 3, diagonalsM[1]),
  ];
}

/** `after` moved and turned so that a place and the direction to another lie where they did on the plan. */
function placedAs(
  before: SitePhoto,
  from: readonly [Point, Point],
  after: SitePhoto,
  to: readonly [Point, Point],
): SitePhoto {
  const a = photoToPlan(before, from[0]);
  const towards = directionDeg(a, photoToPlan(before, from[1]));
  const upright = { ...after, corner: [0, 0] as Point, turnDeg: 0 };
  const turn = towards - directionDeg(photoToPlan(upright, to[0]), photoToPlan(upright, to[1]));
  const turnDeg = turn - 360 * Math.round(turn / 360);
  const [x, y] = photoToPlan({ ...upright, turnDeg }, to[0]);
  return { ...after, turnDeg, corner: [a[0] - x, a[1] - y] };
}

/**
 * The photo laid flat. The measured sides and diagonals set its scale, lines that were on the photo before check it;
 * mark 1, and the direction from it to mark 2, stay where they were on the plan.
 * @param pictureId of the flat picture
 * @param lines as for `flatteningOf`; they are kept as check lines too
 */
export function photoLaidFlat(
  photo: SitePhoto,
  marks: Four,
  { rectification, flat, toTaken }: Flattening,
  pictureId: string,
  lines: readonly PhotoMeasure[] = [],
): SitePhoto {
  const onward = chained(toTaken, flat.toFlat);
  const figure = figureLines(rectification, flat.toFlat);
  const checks = [...photo.measures, ...lines].flatMap((line): PhotoMeasure[] => {
    const moved = led(line, onward);
    return moved && !figure.some((one) => sameLine(one, moved)) ? [{ ...moved, role: 'check' }] : [];
  });
  const { widthPx, heightPx, pixelsPerMetre } = flat;
  const after: SitePhoto = {
    ...photo,
    pictureId,
    widthPx,
    heightPx,
    assumedWidthM: widthPx / pixelsPerMetre,
    measures: [...figure, ...checks],
    rectification,
  };
  return placedAs(photo, [marks[0], marks[1]], after, [mapped(onward, marks[0]), mapped(onward, marks[1])]);
}

/** Whether two lines are one measurement: the same ends, either way round, and the same length. */
function sameLine(one: PhotoMeasure, other: PhotoMeasure): boolean {
  const near = (a: Point, b: Point) => distance(a, b) <= SAME_PX;
  return (
    Math.abs(one.lengthM - other.lengthM) <= 1e-9 * one.lengthM &&
    ((near(one.a, other.a) && near(one.b, other.b)) || (near(one.a, other.b) && near(one.b, other.a)))
  );
}

/**
 * The photo with its picture as taken again; its measured lines, without those that laid it flat, are led back, and
 * mark 1 with the direction to mark 2 stays where it is on the plan. `null` where the photo was not laid flat.
 */
export function photoTakenBack(photo: SitePhoto): SitePhoto | null {
  const { rectification } = photo;
  if (!rectification) return null;
  const taken = pictureAsTaken(photo);
  const { source, marks, sidesM } = rectification;
  const flat = taken && layFlat(rectification);
  const own = flat?.ok ? figureLines(rectification, flat.value.toFlat) : [];
  const kept = photo.measures.flatMap((line) => {
    const back = taken && !own.some((one) => sameLine(one, line)) ? led(line, taken.toTaken) : null;
    return back ? [back] : [];
  });
  const span = distance(marks[0], marks[1]);
  const after: SitePhoto = {
    ...photo,
    ...source,
    // Of about the size that it had: as wide as the first side says.
    assumedWidthM: Math.min(1e4, (source.widthPx * sidesM[0]) / span),
    measures: kept.map((line, i) => ({ ...line, role: i < FIT_LINES ? 'fit' : 'check' })),
    rectification: null,
  };
  if (!flat?.ok) return after;
  const { toFlat } = flat.value;
  return placedAs(photo, [mapped(toFlat, marks[0]), mapped(toFlat, marks[1])], after, [marks[0], marks[1]]);
}
