import type { Point } from '../base/point.ts';
import type { SymbolName } from './marks.ts';

/**
 * A piece of a symbol. Places are shares of the symbol's size about its middle, x right and y DOWN, so that a
 * symbol reaches from -0.5 to 0.5. `paint` says whether the piece takes the mark's fill, its pen, or both.
 */
export type Primitive =
  | {
      readonly kind: 'line';
      readonly points: readonly Point[];
      readonly closed: boolean;
      readonly paint: Paint;
    }
  | { readonly kind: 'circle'; readonly at: Point; readonly radius: number; readonly paint: Paint };

/** `solid` is filled with the pen's ink even when the mark has no fill. */
export type Paint = 'pen' | 'both' | 'solid';

function line(points: readonly Point[], paint: Paint = 'pen'): Primitive {
  return { kind: 'line', points, closed: false, paint };
}

function ring(points: readonly Point[], paint: Paint = 'both'): Primitive {
  return { kind: 'line', points, closed: true, paint };
}

function circle(radius: number, paint: Paint = 'both', at: Point = [0, 0]): Primitive {
  return { kind: 'circle', at, radius, paint };
}

/** Corners of a triangle with level base in the square of the symbol. */
const UP: readonly Point[] = [
  [0, -0.5],
  [0.5, 0.4],
  [-0.5, 0.4],
];
const DOWN: readonly Point[] = UP.map(([x, y]): Point => [x, -y]);

const SHAPES: Readonly<Record<SymbolName, readonly Primitive[]>> = {
  dot: [circle(0.5)],
  ring: [circle(0.5, 'pen')],
  square: [
    ring([
      [-0.45, -0.45],
      [0.45, -0.45],
      [0.45, 0.45],
      [-0.45, 0.45],
    ]),
  ],
  diamond: [
    ring([
      [0, -0.5],
      [0.5, 0],
      [0, 0.5],
      [-0.5, 0],
    ]),
  ],
  triangleUp: [ring(UP)],
  triangleDown: [ring(DOWN)],
  cross: [
    line([
      [-0.42, -0.42],
      [0.42, 0.42],
    ]),
    line([
      [-0.42, 0.42],
      [0.42, -0.42],
    ]),
  ],
  // Two triangles tip to tip, the common sign of a valve, on a square box.
  supply: [
    ring([
      [-0.5, -0.5],
      [0.5, -0.5],
      [0.5, 0.5],
      [-0.5, 0.5],
    ]),
    ring(
      [
        [-0.36, -0.26],
        [0.36, 0.26],
        [0.36, -0.26],
        [-0.36, 0.26],
      ],
      'solid',
    ),
  ],
  // A long box: left half crossed once for the screen of the filter, right half with the regulator's disc.
  control: [
    ring([
      [-0.5, -0.28],
      [0.5, -0.28],
      [0.5, 0.28],
      [-0.5, 0.28],
    ]),
    line([
      [0, -0.28],
      [0, 0.28],
    ]),
    line([
      [-0.5, 0.28],
      [0, -0.28],
    ]),
    circle(0.13, 'solid', [0.25, 0]),
  ],
  // A short bar across the tube's end with an open loop beyond it.
  flushEnd: [
    circle(0.34),
    line([
      [-0.5, -0.5],
      [0.5, -0.5],
    ]),
    line([
      [0, -0.5],
      [0, -0.34],
    ]),
  ],
  // A triangle against a bar: water passes from the triangle's base to the bar, upright to the right.
  // A float under a cap: air passes above, water lifts it shut.
  airRelief: [
    circle(0.28, 'both', [0, 0.2]),
    line([
      [0, -0.08],
      [0, -0.36],
    ]),
    line([
      [-0.26, -0.36],
      [0.26, -0.36],
    ]),
  ],
  // A cock with its drop below.
  drain: [
    circle(0.28, 'both', [0, -0.2]),
    line([
      [0, 0.08],
      [0, 0.46],
    ]),
    line([
      [-0.16, 0.28],
      [0, 0.46],
      [0.16, 0.28],
    ]),
  ],
  checkValve: [
    ring([
      [-0.42, -0.4],
      [0.3, 0],
      [-0.42, 0.4],
    ]),
    line([
      [0.36, -0.44],
      [0.36, 0.44],
    ]),
  ],
  // Joins two symbols that stand for the same place.
  link: [
    line([
      [-0.5, 0],
      [0.5, 0],
    ]),
  ],
  head: [circle(0.5), circle(0.16, 'solid')],
  // A wall, hatched on the side that no water reaches.
  blocked: [
    line([
      [-0.5, 0.1],
      [0.5, 0.1],
    ]),
    line([
      [-0.4, 0.1],
      [-0.2, -0.25],
    ]),
    line([
      [-0.05, 0.1],
      [0.15, -0.25],
    ]),
    line([
      [0.3, 0.1],
      [0.5, -0.25],
    ]),
  ],
  // An open arrow head, upright to the right.
  flowTick: [
    line([
      [-0.2, -0.45],
      [0.3, 0],
      [-0.2, 0.45],
    ]),
  ],
  // Strokes across a line that runs to the right, aslant, as a line is struck out by hand.
  cutStroke: [
    line([
      [-0.2, 0.5],
      [0.2, -0.5],
    ]),
  ],
  cutMark: [
    line([
      [-0.4, 0.5],
      [0, -0.5],
    ]),
    line([
      [0, 0.5],
      [0.4, -0.5],
    ]),
  ],
  stem: [
    line([
      [-0.5, 0],
      [0.5, 0],
    ]),
    line([
      [0, -0.5],
      [0, 0.5],
    ]),
  ],
  level: [
    line([
      [-0.5, 0],
      [0.5, 0],
    ]),
    ring(
      [
        [0, 0],
        [-0.3, -0.45],
        [0.3, -0.45],
      ],
      'both',
    ),
  ],
};

/** The pieces of a symbol, from below to above, turned counter-clockwise by `turnDeg`. */
export function symbolShape(name: SymbolName, turnDeg = 0): readonly Primitive[] {
  if (turnDeg === 0) return SHAPES[name];
  const c = Math.cos((turnDeg * Math.PI) / 180);
  const s = Math.sin((turnDeg * Math.PI) / 180);
  // y points down, so that a positive turn takes right to up, i.e. to negative y.
  const turned = ([x, y]: Point): Point => [x * c + y * s, y * c - x * s];
  return SHAPES[name].map((piece) =>
    piece.kind === 'circle'
      ? { ...piece, at: turned(piece.at) }
      : { ...piece, points: piece.points.map(turned) },
  );
}
