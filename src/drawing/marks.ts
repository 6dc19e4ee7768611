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
  | 'checkValve'
  | 'airRelief'
  | 'drain'
  | 'head'
  | 'blocked'
  | 'flowTick'
  | 'cutStroke'
  | 'cutMark'
  | 'stem'
  | 'level'
  | 'link';

export interface SymbolMark extends MarkBase {
  readonly kind: 'symbol';
  readonly name: SymbolName;
  readonly at: Point;
  readonly sizeMm: number;
  /** Counter-clockwise turn about its place, degrees; upright without. */
  readonly turnDeg?: number;
  /** Shift on paper from the place, millimetres, right and down. */
  readonly shiftMm?: Point;
  /**
   * Width on the ground, metres, that the symbol should not exceed: at small scales it is drawn smaller than
   * `sizeMm`, down to a share of it (`symbolSizeMm`).
   */
  readonly groundM?: number;
  readonly pen?: Pen;
  readonly fill?: Color;
}

/** Symbols that shrink with the scale keep at least this share of their size. */
const LEAST_SHARE = 0.6;

/** Size at which a symbol is drawn, millimetres, at `mmPerMetre` millimetres of pen to a metre of ground. */
export function symbolSizeMm(mark: Pick<SymbolMark, 'sizeMm' | 'groundM'>, mmPerMetre: number): number {
  if (mark.groundM === undefined) return mark.sizeMm;
  return Math.min(mark.sizeMm, Math.max(LEAST_SHARE * mark.sizeMm, mark.groundM * mmPerMetre));
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
  /** Ground that the line of text stands for, metres; it is left out at scales at which it is longer than that. */
  readonly fitM?: number;
  /** Ground across the line of text, metres: on the screen it is left out where it is higher than that. */
  readonly acrossM?: number;
  /** Left out where it would lie on other lettering, since a schedule carries what it says. */
  readonly mayDrop?: boolean;
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
