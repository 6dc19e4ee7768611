import { flattestThree, turnOf } from '../../base/homography.ts';
import { distance, type Point } from '../../base/point.ts';
import { bad, good, type Result } from '../../base/result.ts';
import type { Rectification } from '../../plan/records.ts';

/** What was marked and measured: the part of a rectification that does not depend on the picture's size. */
export type Measured = Pick<Rectification, 'marks' | 'sidesM' | 'diagonalsM'>;
export type Four = readonly [Point, Point, Point, Point];

/** One measured length against the figure that was made of all of them. */
export interface HeldLength {
  /** A side or diagonal by its marks, counted from 0; a line on the photo by its number, counted from 0. */
  readonly of:
    | { readonly kind: 'side' | 'diagonal'; readonly from: number; readonly to: number }
    | { readonly kind: 'line'; readonly line: number };
  readonly measuredM: number;
  readonly fittedM: number;
  /** Fitted less measured, percent of the measured length. */
  readonly residualPercent: number;
}

/** The four-sided figure on the ground. */
export interface Figure {
  /** Metres, x to the right and y down as on the picture; mark 1 at zero, mark 2 in its direction on the picture. */
  readonly corners: Four;
  /** Each measured length against the figure; all zero where there are no more lengths than are needed. */
  readonly lengths: readonly HeldLength[];
}

/** Marks nearer together than this cannot carry a figure, pixels. */
const LEAST_APART_PX = 4;
/** Three places count as on one line where the height of their triangle is less than this share of its longest side. */
const LINE_SHARE = 0.02;
/** Opposite sides of a rectangle may differ by this share. */
const SAME = 1e-6;
const ROUNDS = 50;

/** The sides and diagonals as pairs of marks, counted from 0. */
const SIDES = [
  [0, 1],
  [1, 2],
  [2, 3],
  [3, 0],
] as const;
const DIAGONALS = [
  [0, 2],
  [1, 3],
] as const;

const nameOf = (from: number, to: number): string =>
  `${Math.min(from, to) + 1}–${Math.max(from, to) + 1}`.replace('1–4', '4–1');
const metres = (m: number): string => `${Number(m.toPrecision(4))} m`;

/** Whether the marks can be the corners of a figure: apart, no three on a line, in order round it. */
export function examineMarks(marks: Four): Result<Four> {
  for (let i = 0; i < 4; i++) {
    for (let j = i + 1; j < 4; j++) {
      if (!(distance(marks[i]!, marks[j]!) >= LEAST_APART_PX)) {
        return bad(
          `marks ${i + 1} and ${j + 1}`,
          `Marks ${i + 1} and ${j + 1} lie in one place on the photo.`,
          `Drag one of them to its own corner.`,
        );
      }
    }
  }
  const crossing = crossed(marks);
  if (crossing) {
    const [[a, b], [c, d], swap] = crossing;
    return bad(
      'order of the marks',
      `The marks do not go round the figure: the lines ${nameOf(a, b)} and ${nameOf(c, d)} cross.`,
      `Exchange marks ${swap[0] + 1} and ${swap[1] + 1}, so that each mark is next to the one before it.`,
    );
  }
  const flat = flattestThree(marks);
  if (flat.share < LINE_SHARE) {
    const three = [1, 2, 3, 4].filter((n) => n !== flat.leftOut + 1);
    return bad(
      `marks ${three.join(', ')}`,
      `Marks ${three.join(', ')} lie on one line, which leaves the slant of the ground open.`,
      `Drag one of them well to the side of the line through the other two.`,
    );
  }
  return good(marks);
}

/** Which opposite sides cross, and two marks whose exchange undoes it; null for a figure that can be. */
function crossed(
  p: Four,
): readonly [readonly [number, number], readonly [number, number], readonly [number, number]] | null {
  const cross = (a: number, b: number, c: number, d: number): boolean =>
    turnOf(p[a]!, p[b]!, p[c]!) * turnOf(p[a]!, p[b]!, p[d]!) < 0 &&
    turnOf(p[c]!, p[d]!, p[a]!) * turnOf(p[c]!, p[d]!, p[b]!) < 0;
  if (cross(0, 1, 2, 3))
    return [
      [0, 1],
      [2, 3],
      [1, 2],
    ];
  if (cross(1, 2, 3, 0))
    return [
      [1, 2],
      [3, 0],
      [2, 3],
    ];
  return null;
}

/**
 * The figure on the ground from the measured lengths. With one diagonal two triangles give it exactly; with both, the
 * least squares of the relative errors of all six lengths; a rectangle needs no diagonal. Which side of a diagonal a
 * corner lies on is taken from the picture, where it is the same for all that lies before the camera.
 *
 * Fails where a length is not above zero, where lengths close no triangle, where the figure is none that the marks can
 * show, or three of its corners lie on a line.
 */
export function groundFigure(measured: Measured): Result<Figure> {
  const { marks, sidesM, diagonalsM } = measured;
  const seen = examineMarks(marks);
  if (!seen.ok) return seen;
  const known = [
    ...SIDES.map(([a, b], i) => ({ kind: 'side' as const, a, b, m: sidesM[i]! })),
    ...DIAGONALS.flatMap(([a, b], i) => {
      const m = diagonalsM[i] ?? null;
      return m === null ? [] : [{ kind: 'diagonal' as const, a, b, m }];
    }),
  ];
  for (const { kind, a, b, m } of known) {
    if (!(m > 0 && Number.isFinite(m))) {
      const name = `${kind === 'side' ? 'Side' : 'Diagonal'} ${nameOf(a, b)}`;
      return bad(name, `${name} has no length above zero.`, 'Type the length measured on the ground.');
    }
  }
  const shape = shapeOf(measured);
  if (!shape.ok) return shape;
  const corners = laidLike(shape.value, marks);

  for (let i = 0; i < 4; i++) {
    const [a, b, c] = [0, 1, 2, 3].filter((k) => k !== i) as [number, number, number];
    const onPhoto = turnOf(marks[a]!, marks[b]!, marks[c]!);
    const onGround = turnOf(corners[a]!, corners[b]!, corners[c]!);
    if (onPhoto * onGround <= 0) {
      return bad(
        'lengths and marks',
        `By the lengths, mark ${b + 1} lies on the other side of the line ${nameOf(a, c)} than on the photo.`,
        'Check that each length belongs to its two marks, and that the marks are at the places measured.',
      );
    }
  }
  const flat = flattestThree(corners);
  if (flat.share < LINE_SHARE) {
    const three = [1, 2, 3, 4].filter((n) => n !== flat.leftOut + 1);
    return bad(
      'lengths',
      `By the lengths, marks ${three.join(', ')} lie on one line on the ground.`,
      'Check the lengths, or mark a place well to the side.',
    );
  }
  const lengths = known.map(({ kind, a, b, m }): HeldLength => {
    const fittedM = distance(corners[a]!, corners[b]!);
    return {
      of: { kind, from: a, to: b },
      measuredM: m,
      fittedM,
      residualPercent: (100 * (fittedM - m)) / m,
    };
  });
  return good({ corners, lengths });
}

/** Corners by the lengths, anywhere and at any turn, on the sides of each other that the picture shows. */
function shapeOf({ marks, sidesM, diagonalsM }: Measured): Result<Four> {
  const [s12, s23, s34, s41] = sidesM;
  const [d13, d24] = diagonalsM;
  const round = Math.sign(turnOf(marks[0], marks[1], marks[2]));
  if (d13 === null && d24 === null) {
    if (Math.abs(s12 - s34) > SAME * s12 || Math.abs(s23 - s41) > SAME * s23) {
      return bad(
        'diagonals',
        'Without a diagonal four sides can be pushed into many figures.',
        'Measure a diagonal too, or choose a rectangle, whose opposite sides are equal.',
      );
    }
    return good([
      [0, 0],
      [s12, 0],
      [s12, round * s23],
      [0, round * s23],
    ]);
  }
  // Each triangle of two sides and a diagonal has to close.
  const triangles = [
    ...(d13 === null ? [] : [[0, 1, 2, s12, s23, d13] as const, [2, 3, 0, s34, s41, d13] as const]),
    ...(d24 === null ? [] : [[1, 2, 3, s23, s34, d24] as const, [3, 0, 1, s41, s12, d24] as const]),
  ];
  for (const [a, b, c, first, second, diagonal] of triangles) {
    const longest = Math.max(first, second, diagonal);
    if (longest < first + second + diagonal - longest) continue;
    const where = `triangle ${[a, b, c].map((n) => n + 1).join('–')}`;
    return bad(
      where,
      `Side ${nameOf(a, b)} (${metres(first)}), side ${nameOf(b, c)} (${metres(second)}) and diagonal ${nameOf(a, c)} (${metres(diagonal)}) close no triangle: the longest is as long as the other two together, or longer.`,
      'Check these three lengths on the ground and their units here.',
    );
  }
  const fromFirst = d13 !== null;
  const start: Four = fromFirst
    ? [
        [0, 0],
        third(s12, s23, d13, sideOf(marks, 0, 2, 1)),
        [d13, 0],
        third(s41, s34, d13, sideOf(marks, 0, 2, 3)),
      ]
    : [
        third(s12, s41, d24!, sideOf(marks, 1, 3, 0)),
        [0, 0],
        third(s23, s34, d24!, sideOf(marks, 1, 3, 2)),
        [d24!, 0],
      ];
  return good(d13 !== null && d24 !== null ? adjusted(start, [...sidesM, d13, d24]) : start);
}

const sideOf = (marks: Four, a: number, b: number, c: number): number =>
  Math.sign(turnOf(marks[a]!, marks[b]!, marks[c]!));

/** The corner at distances from (0, 0) and (base, 0), by the law of cosines; `side` 1 is towards y. */
function third(fromStart: number, fromEnd: number, base: number, side: number): Point {
  const x = (fromStart ** 2 - fromEnd ** 2 + base ** 2) / (2 * base);
  return [x, side * Math.sqrt(Math.max(0, fromStart ** 2 - x ** 2))];
}

/**
 * Moves the corners until the sum of the squares of (length / measured - 1) over the six lengths is least: Newton's
 * way by Gauss, with Marquardt's damping, which also takes care of the figure being free to move and turn.
 */
function adjusted(start: Four, measured: readonly number[]): Four {
  const pairs = [...SIDES, ...DIAGONALS];
  const errors = (p: readonly number[]): number[] =>
    pairs.map(([a, b], k) => lengthOf(p, a, b) / measured[k]! - 1);
  const sum = (e: readonly number[]): number => e.reduce((total, value) => total + value * value, 0);
  let p = start.flat();
  let e = errors(p);
  let damping = 1e-3;
  const size = Math.max(...measured);
  for (let round = 0; round < ROUNDS; round++) {
    const slopes = pairs.map(([a, b], k) => {
      const row = new Array<number>(8).fill(0);
      const length = lengthOf(p, a, b);
      for (const axis of [0, 1]) {
        const slope = (p[2 * b + axis]! - p[2 * a + axis]!) / (length * measured[k]!);
        row[2 * b + axis] = slope;
        row[2 * a + axis] = -slope;
      }
      return row;
    });
    const normal = p.map((_, i) =>
      p.map((__, j) => slopes.reduce((total, row) => total + row[i]! * row[j]!, 0)),
    );
    const pull = p.map((_, i) => slopes.reduce((total, row, k) => total - row[i]! * e[k]!, 0));
    const damped = normal.map((row, i) =>
      row.map((value, j) => (i === j ? value + damping / size ** 2 : value)),
    );
    const step = solved(damped, pull);
    const next = p.map((value, i) => value + step[i]!);
    const after = errors(next);
    if (sum(after) <= sum(e)) {
      const done = Math.hypot(...step) < 1e-13 * size;
      p = next;
      e = after;
      damping = Math.max(damping / 10, 1e-9);
      if (done) break;
    } else {
      damping *= 10;
      if (damping > 1e9) break;
    }
  }
  const corner = (i: number): Point => [p[2 * i]!, p[2 * i + 1]!];
  return [corner(0), corner(1), corner(2), corner(3)];
}

const lengthOf = (p: readonly number[], a: number, b: number): number =>
  Math.hypot(p[2 * b]! - p[2 * a]!, p[2 * b + 1]! - p[2 * a + 1]!);

/** Solves a small symmetric positive system by elimination with pivots. */
function solved(matrix: readonly (readonly number[])[], right: readonly number[]): number[] {
  const n = right.length;
  const rows = matrix.map((row, i) => [...row, right[i]!]);
  for (let column = 0; column < n; column++) {
    let pivot = column;
    for (let i = column + 1; i < n; i++) {
      if (Math.abs(rows[i]![column]!) > Math.abs(rows[pivot]![column]!)) pivot = i;
    }
    [rows[column], rows[pivot]] = [rows[pivot]!, rows[column]!];
    for (let i = column + 1; i < n; i++) {
      const share = rows[i]![column]! / rows[column]![column]!;
      for (let j = column; j <= n; j++) rows[i]![j]! -= share * rows[column]![j]!;
    }
  }
  const answer = new Array<number>(n).fill(0);
  for (let i = n - 1; i >= 0; i--) {
    let rest = rows[i]![n]!;
    for (let j = i + 1; j < n; j++) rest -= rows[i]![j]! * answer[j]!;
    answer[i] = rest / rows[i]![i]!;
  }
  return answer;
}

/** Moved so that corner 1 is at zero, turned so that corner 2 lies in the direction that mark 2 has from mark 1. */
function laidLike(corners: Four, marks: Four): Four {
  const [a, b] = corners;
  const seen = Math.atan2(marks[1][1] - marks[0][1], marks[1][0] - marks[0][0]);
  const turn = seen - Math.atan2(b[1] - a[1], b[0] - a[0]);
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  return corners.map(([x, y]): Point => {
    const [dx, dy] = [x - a[0], y - a[1]];
    return [c * dx - s * dy, s * dx + c * dy];
  }) as unknown as Four;
}
