import type { Point } from '../base/point.ts';
import { colorOf } from '../drawing/inks.ts';
import type { Color, Pen } from '../drawing/marks.ts';
import type { Frame, PaperPart, PaperPen, PathPart, TextPart } from './page.ts';

/** A pen of the drawing as it is on paper. */
export function paperPen(pen: Pen): PaperPen {
  const color = colorOf(pen.ink, 'paper');
  const { widthMm, dashMm } = pen;
  return dashMm ? { color, widthMm, dashMm } : { color, widthMm };
}

/** A straight line between two places. */
export function ruled(a: Point, b: Point, ink: Color, widthMm: number, dashMm?: readonly number[]): PathPart {
  const pen = dashMm ? { ink, widthMm, dashMm } : { ink, widthMm };
  return { kind: 'path', lines: [[a, b]], closed: false, pen: paperPen(pen) };
}

export function cornersOf({ x, y, w, h }: Frame): Point[] {
  return [
    [x, y],
    [x + w, y],
    [x + w, y + h],
    [x, y + h],
  ];
}

export interface BoxLook {
  readonly pen?: Pen;
  readonly fill?: Color;
  readonly fillOpacity?: number;
}

/** A rectangle. */
export function boxed(frame: Frame, look: BoxLook): PathPart {
  return {
    kind: 'path',
    lines: [cornersOf(frame)],
    closed: true,
    ...(look.pen && { pen: paperPen(look.pen) }),
    ...(look.fill && { fill: colorOf(look.fill, 'paper') }),
    ...(look.fillOpacity !== undefined && { fillOpacity: look.fillOpacity }),
  };
}

export interface TextLook {
  readonly anchor?: TextPart['anchor'];
  readonly bold?: boolean;
  readonly ink?: Color;
  readonly turnDeg?: number;
}

/** One line of text with its baseline through `at`. */
export function lettered(at: Point, text: string, sizeMm: number, look: TextLook = {}): TextPart {
  return {
    kind: 'text',
    at,
    text,
    sizeMm,
    color: colorOf(look.ink ?? 'line', 'paper'),
    anchor: look.anchor ?? 'start',
    bold: look.bold ?? false,
    turnDeg: look.turnDeg ?? 0,
  };
}

/** Lines of text below each other, the first baseline at `at`. */
export function letteredLines(
  at: Point,
  lines: readonly string[],
  sizeMm: number,
  leadingMm: number,
  look: TextLook = {},
): PaperPart[] {
  return lines.map((line, i) => lettered([at[0], at[1] + i * leadingMm], line, sizeMm, look));
}
