import { distance, type Point } from './point.ts';
import { bad, good, type Result } from './result.ts';

/**
 * A projective map of the plane, row by row: (x, y) goes to ((h0 x + h1 y + h2) / w, (h3 x + h4 y + h5) / w) with
 * w = h6 x + h7 y + h8. Maps made here have w > 0 on the side of their horizon on which their points lie.
 *
 * Formulas: Hartley and Zisserman, Multiple View Geometry, 2nd ed. 2004, chapters 2 and 4 (from memory).
 */
export type Homography = readonly [number, number, number, number, number, number, number, number, number];

export const IDENTITY: Homography = [1, 0, 0, 0, 1, 0, 0, 0, 1];

/** Below this share of the longest side a triangle's height counts as nothing, in reckoning. */
const FLAT = 1e-9;

/** The weight w at a point: 0 on the horizon, below 0 beyond it. */
export function weightAt(h: Homography, [x, y]: Point): number {
  return h[6] * x + h[7] * y + h[8];
}

/** Where a point goes; not finite on the horizon. */
export function mapped(h: Homography, p: Point): Point {
  const w = weightAt(h, p);
  return [(h[0] * p[0] + h[1] * p[1] + h[2]) / w, (h[3] * p[0] + h[4] * p[1] + h[5]) / w];
}

/** The map that does `first`, then `then`. */
export function chained(first: Homography, then: Homography): Homography {
  const at = (row: number, column: number): number =>
    then[row * 3]! * first[column]! +
    then[row * 3 + 1]! * first[column + 3]! +
    then[row * 3 + 2]! * first[column + 6]!;
  return [at(0, 0), at(0, 1), at(0, 2), at(1, 0), at(1, 1), at(1, 2), at(2, 0), at(2, 1), at(2, 2)];
}

/** Determinant; 0 for a map that cannot be undone. */
export function determinant(h: Homography): number {
  return (
    h[0] * (h[4] * h[8] - h[5] * h[7]) -
    h[1] * (h[3] * h[8] - h[5] * h[6]) +
    h[2] * (h[3] * h[7] - h[4] * h[6])
  );
}

/** The map back. Its weight at an image is 1 / w of the point, so that its sign tells the same side. */
export function inverted(h: Homography): Homography {
  const [a, b, c, d, e, f, g, i, j] = h;
  const det = determinant(h);
  return [
    (e * j - f * i) / det,
    (c * i - b * j) / det,
    (b * f - c * e) / det,
    (f * g - d * j) / det,
    (a * j - c * g) / det,
    (c * d - a * f) / det,
    (d * i - e * g) / det,
    (b * g - a * i) / det,
    (a * e - b * d) / det,
  ];
}

/** The map that multiplies by `factor` and then moves by (dx, dy). */
export function scaling(factor: number, dx = 0, dy = 0): Homography {
  return [factor, 0, dx, 0, factor, dy, 0, 0, 1];
}

/** How much lengths grow at a point, as the root of the growth of area: |det| / |w|^3. */
export function growthAt(h: Homography, p: Point): number {
  return Math.sqrt(Math.abs(determinant(h)) / Math.abs(weightAt(h, p)) ** 3);
}

/** Twice the area of a triangle; above 0 where a, b, c turn from x towards y. */
export function turnOf(a: Point, b: Point, c: Point): number {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
}

/** Height of a triangle over its longest side, as a share of that side: 0 on a line, 0.87 with equal sides. */
export function heightShare(a: Point, b: Point, c: Point): number {
  const longest = Math.max(distance(a, b), distance(b, c), distance(c, a));
  return longest > 0 ? Math.abs(turnOf(a, b, c)) / longest ** 2 : 0;
}

/** The three of four points that lie most nearly on one line: the place of the one left out, and their height share. */
export function flattestThree(points: readonly [Point, Point, Point, Point]): {
  readonly leftOut: number;
  readonly share: number;
} {
  let flattest = { leftOut: 0, share: Infinity };
  for (let leftOut = 0; leftOut < 4; leftOut++) {
    const [a, b, c] = points.filter((_, i) => i !== leftOut) as [Point, Point, Point];
    const share = heightShare(a, b, c);
    if (share < flattest.share) flattest = { leftOut, share };
  }
  return flattest;
}

/**
 * The map that takes each point of `from` to the one of `to` at the same place in the list: exactly for four pairs,
 * with the least squares of the algebraic error in normalised coordinates for more.
 * Fails for fewer than four pairs, for coordinates that are no numbers, and where three of four points lie on a line
 * (or all but one of more), since that leaves the map open.
 */
export function homographyFrom(from: readonly Point[], to: readonly Point[]): Result<Homography> {
  const where = 'pairs of points';
  if (from.length !== to.length || from.length < 4) {
    return bad(
      where,
      `${from.length} and ${to.length} points are no four pairs`,
      'Give four pairs of points or more.',
    );
  }
  if (![...from, ...to].every(([x, y]) => Number.isFinite(x) && Number.isFinite(y))) {
    return bad(where, 'a coordinate is not a number', 'Give numbers.');
  }
  const a = normalised(from);
  const b = normalised(to);
  const core = a && b && (from.length === 4 ? fromFour(a.points, b.points) : fromMany(a.points, b.points));
  if (!core) {
    return bad(
      where,
      from.length === 4 ? 'three of the four points lie on one line' : 'the points lie on one line',
      'Take points of which no three lie on a line.',
    );
  }
  const whole = chained(chained(a.map, core), inverted(b.map));
  // Positive where the points are: most of them, if the horizon should run between them.
  const ahead = from.reduce((count, p) => count + Math.sign(weightAt(whole, p)), 0);
  const sign = ahead < 0 || (ahead === 0 && weightAt(whole, from[0]!) < 0) ? -1 : 1;
  const size = (sign * Math.hypot(...whole)) / 3;
  return good(whole.map((value) => value / size) as unknown as Homography);
}

/** Points moved to their middle and scaled to a mean distance of 1 from it; null where all lie in one place. */
function normalised(
  points: readonly Point[],
): { readonly map: Homography; readonly points: readonly Point[] } | null {
  const n = points.length;
  const x = points.reduce((sum, p) => sum + p[0], 0) / n;
  const y = points.reduce((sum, p) => sum + p[1], 0) / n;
  const mean = points.reduce((sum, p) => sum + Math.hypot(p[0] - x, p[1] - y), 0) / n;
  if (!(mean > 0)) return null;
  return {
    map: scaling(1 / mean, -x / mean, -y / mean),
    points: points.map((p) => [(p[0] - x) / mean, (p[1] - y) / mean]),
  };
}

/** Through the basis of the projective plane: three points as corners, the fourth as their unit point. */
function fromFour(from: readonly Point[], to: readonly Point[]): Homography | null {
  const source = basis(from);
  const target = basis(to);
  return source && target && chained(inverted(source), target);
}

function basis(points: readonly Point[]): Homography | null {
  const [a, b, c, d] = points as readonly [Point, Point, Point, Point];
  if (flattestThree([a, b, c, d]).share < FLAT) return null;
  // d as a sum of a, b and c, by areas.
  const u = turnOf(d, b, c);
  const v = turnOf(a, d, c);
  const w = turnOf(a, b, d);
  return [u * a[0], v * b[0], w * c[0], u * a[1], v * b[1], w * c[1], u, v, w];
}

/** The direct linear transformation: the eigenvector of the least eigenvalue of its normal equations. */
function fromMany(from: readonly Point[], to: readonly Point[]): Homography | null {
  const normal = Array.from({ length: 9 }, () => new Array<number>(9).fill(0));
  from.forEach(([x, y], k) => {
    const [u, v] = to[k]!;
    for (const row of [
      [x, y, 1, 0, 0, 0, -u * x, -u * y, -u],
      [0, 0, 0, x, y, 1, -v * x, -v * y, -v],
    ]) {
      for (let i = 0; i < 9; i++) for (let j = 0; j < 9; j++) normal[i]![j]! += row[i]! * row[j]!;
    }
  });
  const { values, vectors } = eigen(normal);
  const order = values.map((_, i) => i).sort((i, j) => values[i]! - values[j]!);
  const [least, next] = [order[0]!, order[1]!];
  // Two free directions: more than one map fits.
  if (values[next]! < FLAT * values[order[8]!]!) return null;
  const h = vectors.map((row) => row[least]!) as unknown as Homography;
  return Math.abs(determinant(h)) < FLAT ? null : h;
}

/** Eigenvalues and eigenvectors (as columns) of a symmetric matrix, by Jacobi's turns. */
function eigen(matrix: readonly (readonly number[])[]): {
  readonly values: readonly number[];
  readonly vectors: readonly (readonly number[])[];
} {
  const n = matrix.length;
  const a = matrix.map((row) => [...row]);
  const v = a.map((row, i) => row.map((_, j): number => (i === j ? 1 : 0)));
  for (let sweep = 0; sweep < 60; sweep++) {
    let off = 0;
    for (let p = 0; p < n; p++) for (let q = p + 1; q < n; q++) off += a[p]![q]! ** 2;
    if (off < 1e-300) break;
    for (let p = 0; p < n; p++) {
      for (let q = p + 1; q < n; q++) {
        const apq = a[p]![q]!;
        if (apq === 0) continue;
        const theta = (a[q]![q]! - a[p]![p]!) / (2 * apq);
        const t = (theta < 0 ? -1 : 1) / (Math.abs(theta) + Math.sqrt(theta * theta + 1));
        const c = 1 / Math.sqrt(t * t + 1);
        const s = t * c;
        for (let k = 0; k < n; k++) {
          const [kp, kq] = [a[k]![p]!, a[k]![q]!];
          a[k]![p] = c * kp - s * kq;
          a[k]![q] = s * kp + c * kq;
        }
        for (let k = 0; k < n; k++) {
          const [pk, qk] = [a[p]![k]!, a[q]![k]!];
          a[p]![k] = c * pk - s * qk;
          a[q]![k] = s * pk + c * qk;
          const [kp, kq] = [v[k]![p]!, v[k]![q]!];
          v[k]![p] = c * kp - s * kq;
          v[k]![q] = s * kp + c * kq;
        }
      }
    }
  }
  return { values: a.map((row, i) => row[i]!), vectors: v };
}
