import type { Point } from '../base/point.ts';
import type { Problem } from '../base/result.ts';

/**
 * A sheet as a list of marks on paper. All places and sizes are millimetres, x right and y down from the paper's
 * upper left corner; colours are `#rrggbb`. PDF and preview are written from the same marks.
 */

export interface PaperPen {
  readonly color: `#${string}`;
  readonly widthMm: number;
  readonly dashMm?: readonly number[];
}

interface Painted {
  readonly pen?: PaperPen;
  readonly fill?: `#${string}`;
  /** 0 to 1; 1 unless given. */
  readonly fillOpacity?: number;
}

/** Lines or rings; several rings with a fill are filled even-odd. */
export interface PathPart extends Painted {
  readonly kind: 'path';
  readonly lines: readonly (readonly Point[])[];
  readonly closed: boolean;
}

export interface CirclePart extends Painted {
  readonly kind: 'circle';
  readonly at: Point;
  readonly radiusMm: number;
}

/** One line of text with its baseline through `at`. `sizeMm` is the type size (the em); capitals are 0.714 of it. */
export interface TextPart {
  readonly kind: 'text';
  readonly at: Point;
  readonly text: string;
  readonly sizeMm: number;
  readonly color: `#${string}`;
  readonly anchor: 'start' | 'middle' | 'end';
  readonly bold: boolean;
  /** Counter-clockwise about `at`. */
  readonly turnDeg: number;
  /** Colour of a rim of `HALO_EM` of the type size around the letters. */
  readonly halo?: `#${string}`;
}

/** Width of the rim around letters, as a share of the type size. */
export const HALO_EM = 0.09;

/** A picture with its upper left corner at `at`, turned counter-clockwise about it. */
export interface PicturePart {
  readonly kind: 'picture';
  readonly pictureId: string;
  readonly at: Point;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly turnDeg: number;
  readonly opacity: number;
}

/** A rectangle on paper. */
export interface Frame {
  readonly x: number;
  readonly y: number;
  readonly w: number;
  readonly h: number;
}

/** Marks of which only what lies in the window is seen. */
export interface ClipPart {
  readonly kind: 'clip';
  readonly window: Frame;
  readonly parts: readonly PaperPart[];
}

export type PaperPart = PathPart | CirclePart | TextPart | PicturePart | ClipPart;

/** What a drawing sheet shows of the ground: where its window lies, and how ground becomes paper. */
export interface View {
  readonly window: Frame;
  /** Millimetres of paper to a metre of ground. */
  readonly mmPerMetre: number;
  /** Ground point at the middle of the window. */
  readonly middle: Point;
}

export interface Page {
  readonly widthMm: number;
  readonly heightMm: number;
  /** What the sheet is, e.g. `Plan` or `Schedules`. */
  readonly title: string;
  /** For sheets with a drawing. */
  readonly view: View | null;
  readonly parts: readonly PaperPart[];
}

export interface SheetSet {
  readonly pages: readonly Page[];
  /** What could not be drawn as asked. */
  readonly warnings: readonly Problem[];
}
