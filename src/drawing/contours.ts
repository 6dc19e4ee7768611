import { pathLength, pointAlong } from '../base/polyline.ts';
import { between, directionDeg, distance, type Path, type Point } from '../base/point.ts';
import { formatQuantity, shownValue, type UnitSystem } from '../base/quantity.ts';
import { contoursOfPlan } from '../derive/ground/contours.ts';
import type { Plan } from '../plan/records.ts';
import { PEN } from './inks.ts';
import { upright } from './labels.ts';
import type { Mark, Pen } from './marks.ts';

/** What the lines follow from. */
export type Contoured = Pick<Plan, 'site' | 'levels' | 'falls' | 'areas'>;

const INK = 'soft';
export const CONTOUR_PEN: Pen = { ink: INK, widthMm: PEN.hair };
export const INDEX_PEN: Pen = { ink: INK, widthMm: PEN.medium };
/** Where the ground is only carried on beyond the levels. */
const DASH_MM = [1.6, 1];

/** Contour lines, every fifth one bolder, dashed beyond the levels. */
export function contourMarks(plan: Contoured): Mark[] {
  return contoursOfPlan(plan).flatMap(({ index, lines }) => {
    const pen = index ? INDEX_PEN : CONTOUR_PEN;
    return lines.map(({ path, closed, outside }): Mark => ({
      kind: 'path',
      lines: [path],
      closed,
      pen: outside ? { ...pen, dashMm: DASH_MM } : pen,
    }));
  });
}

const SIZE_MM = 2;
/** From the foot of the figures to their middle, as a share of the type size. */
const HALF_FIGURE = 0.36;
/** Lines that are shorter have no figure, metres. */
const SHORTEST_M = 0.5;

/** Heights in their lines, at the longest straight piece; those of index lines are bold and go first. */
export function contourLabels(plan: Contoured, units: UnitSystem): Mark[] {
  const { contourM } = plan.site;
  if (contourM === null) return [];
  const digits = contourDigits(contourM, units);
  return contoursOfPlan(plan).flatMap(({ zM, index, lines }) =>
    lines.flatMap(({ path, closed, outside }): Mark[] => {
      const whole = closed ? [...path, path[0]!] : path;
      const lengthM = pathLength(whole);
      if (outside || lengthM < SHORTEST_M) return [];
      const { at, turnDeg } = straightest(whole, lengthM);
      return [
        {
          kind: 'text',
          halo: 'paper',
          at,
          turnDeg,
          text: formatQuantity('length', zM, units, { digits, unit: false }).replace(/^-/, '\u2212'),
          sizeMm: SIZE_MM,
          ink: INK,
          anchor: 'middle',
          shiftMm: [0, HALF_FIGURE * SIZE_MM],
          fitM: lengthM / 2,
          bold: index,
          mayDrop: !index,
        },
      ];
    }),
  );
}

/** Digits after the mark with which all multiples of an interval can be written, 3 at most. */
export function contourDigits(intervalM: number, units: UnitSystem): number {
  const shown = shownValue('length', intervalM, units);
  for (let digits = 0; digits < 3; digits++) {
    const scaled = shown * 10 ** digits;
    if (Math.abs(scaled - Math.round(scaled)) < 1e-6 * scaled) return digits;
  }
  return 3;
}

/** The interval as a legend says it, such as `0.5 ft`. */
export function contourInterval(intervalM: number, units: UnitSystem): string {
  return formatQuantity('length', intervalM, units, { digits: contourDigits(intervalM, units) });
}

/** Middle and direction of the longest straight piece; a line of many short ones is lettered at its middle. */
function straightest(path: Path, lengthM: number): { at: Point; turnDeg: number } {
  let best = 1;
  for (let i = 2; i < path.length; i++) {
    if (distance(path[i - 1]!, path[i]!) > distance(path[best - 1]!, path[best]!)) best = i;
  }
  const [a, b] = [path[best - 1]!, path[best]!];
  if (distance(a, b) >= lengthM / 6) return { at: between(a, b, 0.5), turnDeg: upright(directionDeg(a, b)) };
  const at = pointAlong(path, lengthM / 2);
  const ahead = pointAlong(path, lengthM / 2 + 0.01 * lengthM);
  return { at, turnDeg: upright(directionDeg(at, ahead)) };
}
