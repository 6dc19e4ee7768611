import type { Point } from '../base/point.ts';

/**
 * A drawing as a list of marks. Places are metres on the ground; line widths, dashes, text and symbol sizes are
 * millimetres of pen, so that the same marks serve the screen and every sheet scale.
 */

/** Inks by meaning; screen and paper each turn them into a colour. */
export type Ink =
  | 'line'
  | 'soft'
  | 'faint'
  | 'accent'
  | 'warn'
  | 'bed'
  | 'paving'
  | 'lawn'
  | 'plant'
  | 'plantFill'
  | 'water'
  | 'old'
  | 'paper';

export type Color = Ink | `#${string}`;

export interface Pen {
  readonly ink: Color;
  readonly widthMm: number;
  readonly dashMm?: readonly number[];
}

interface MarkBase {
  /** `refKey` of the record that the mark stands for, if any. */
  readonly owner?: string;
}

/** Rings or lines; several rings with a fill are filled even-odd. */
export interface PathMark extends MarkBase {
  readonly kind: 'path';
  readonly lines: readonly (readonly Point[])[];
  readonly closed: boolean;
  readonly pen?: Pen;
  readonly fill?: Color;
  readonly fillOpacity?: number;
}

/** A circle of a size on the ground. */
export interface CircleMark extends MarkBase {
  readonly kind: 'circle';
  readonly at: Point;
  readonly radiusM: number;
  readonly pen?: Pen;
  readonly fill?: Color;
  readonly fillOpacity?: number;
}

/** Named symbols of a size on paper, drawn about their place. */
export type SymbolName =
  | 'dot'
  | 'ring'
  | 'square'
  | 'diamond'
  | 'triangleUp'
  | 'triangleDown'
  | 'cross'
  | 'supply'
  | 'control'
  | 'flushEnd'
  | 'head'
  | 'stem'
  | 'level';

export interface SymbolMark extends MarkBase {
  readonly kind: 'symbol';
  readonly name: SymbolName;
  readonly at: Point;
  readonly sizeMm: number;
  readonly pen?: Pen;
  readonly fill?: Color;
}

/** One line of text; its baseline runs through its place. `sizeMm` is the type size (the em). */
export interface TextMark extends MarkBase {
  readonly kind: 'text';
  readonly at: Point;
  readonly text: string;
  readonly sizeMm: number;
  readonly ink: Color;
  readonly anchor: 'start' | 'middle' | 'end';
  /** Shift on paper from the place, millimetres, along the line of text and down from it (turned with it). */
  readonly shiftMm?: Point;
  readonly turnDeg?: number;
  readonly bold?: boolean;
  /** Colour of a thin rim around the letters, so that they stand clear of what lies below. */
  readonly halo?: Color;
}

/** The site photo: pixel (0, 0) at `corner`, turned counter-clockwise, one pixel `metresPerPixel` wide. */
export interface PhotoMark extends MarkBase {
  readonly kind: 'photo';
  readonly pictureId: string;
  readonly corner: Point;
  readonly turnDeg: number;
  readonly metresPerPixel: number;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly strength: number;
}

export type Mark = PathMark | CircleMark | SymbolMark | TextMark | PhotoMark;

/** Layers in drawing order from below to above. */
export const LAYERS = ['photo', 'ground', 'existing', 'plants', 'tubing', 'outlets', 'labels'] as const;
export type LayerName = (typeof LAYERS)[number];

export interface Layer {
  readonly name: LayerName;
  readonly marks: readonly Mark[];
}
