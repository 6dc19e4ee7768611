import type { Point } from '../../base/point.ts';
import { gradientIn, type RowGrid } from './row-grid.ts';

/**
 * A value at the nodes of a grid, in metres, of which rows are the lines of equal value: it rises uphill by one for each
 * metre on the ground, and not at all along the contour, as nearly as both can be had.
 */
export interface RowField {
  readonly values: Float64Array;
  /** By triangle: rise of the value per metre of ground; 1 is just the spacing asked for, less is wider. */
  readonly density: Float64Array;
  /** By triangle: angle between row and contour, degrees, 0 to 90; 0 where the ground is level. */
  readonly offContourDeg: Float64Array;
  /** By triangle: slope of the ground, percent. */
  readonly slopePercent: Float64Array;
}

/** A step off the contour weighs so many times as much as one off the spacing. */
const CONTOUR_WEIGHT = 8;
/** From this slope on the contour counts in full; under it less, since small errors of the levels turn it. */
const FULL_SLOPE = 0.05;
const LEAST_WEIGHT = 0.01;
/** Under this slope the ground has no contour: rows go on as on the ground around. */
const LEVEL = 0.005;
const MOST_ITERATIONS = 1200;
const PRECISION = 1e-4;

/**
 * Solves for the field by least squares: over all triangles, the square of (rise uphill - 1) plus the weighted square of
 * the rise along the contour, both per metre of ground. Its minimum is a Poisson equation with a direction; linear
 * elements, conjugate gradients with the diagonal as preconditioner (Hestenes and Stiefel 1952). On a plane and on a
 * cone the field is exact: straight and concentric rows at equal distances.
 * @param mean rise per metre east and north of the ground as a whole
 */
export function rowField(grid: RowGrid, mean: Point): RowField {
  const { zM, triangles, east, north } = grid;
  const count = triangles.length / 3;
  const n = zM.length;
  const meanSlope = Math.hypot(...mean);
  const uphill: Point = meanSlope > LEVEL ? [mean[0] / meanSlope, mean[1] / meanSlope] : [0, 0];
  // The quadratic form of each triangle, and the rise asked for through it.
  const [xx, xy, yy] = [new Float64Array(count), new Float64Array(count), new Float64Array(count)];
  const rhs = new Float64Array(n);
  const diagonal = new Float64Array(n);
  const slopePercent = new Float64Array(count);
  let [weights, sines] = [0, 0];
  for (let t = 0; t < count; t++) {
    const [gx, gy] = gradientIn(grid, zM, t);
    const slope = Math.hypot(gx, gy);
    slopePercent[t] = 100 * slope;
    const isLevel = slope < LEVEL;
    const k = isLevel ? 1 : Math.sqrt(1 + slope * slope);
    const [ux, uy] = isLevel ? uphill : [gx / slope, gy / slope];
    const weight = isLevel ? LEAST_WEIGHT : Math.max(LEAST_WEIGHT, Math.min(1, (slope / FULL_SLOPE) ** 2));
    const along = isLevel ? weight : weight * CONTOUR_WEIGHT;
    const across = weight / (k * k);
    xx[t] = across * ux * ux + along * uy * uy;
    xy[t] = (across - along) * ux * uy;
    yy[t] = across * uy * uy + along * ux * ux;
    if (isLevel && uphill[0] === 0 && uphill[1] === 0) [xx[t], xy[t], yy[t]] = [weight, 0, weight];
    const [fx, fy] = [across * k * ux, across * k * uy];
    for (let c = 3 * t; c < 3 * t + 3; c++) {
      const [bx, by] = [east[c]!, north[c]!];
      rhs[triangles[c]!]! += bx * fx + by * fy;
      diagonal[triangles[c]!]! += xx[t]! * bx * bx + 2 * xy[t]! * bx * by + yy[t]! * by * by;
    }
    weights += weight;
    sines += weight * (slope / k);
  }
  const apply = (x: Float64Array, out: Float64Array): void => {
    out.fill(0);
    for (let t = 0; t < count; t++) {
      const [a, b, c] = [3 * t, 3 * t + 1, 3 * t + 2];
      const [i, j, k] = [triangles[a]!, triangles[b]!, triangles[c]!];
      const gx = x[i]! * east[a]! + x[j]! * east[b]! + x[k]! * east[c]!;
      const gy = x[i]! * north[a]! + x[j]! * north[b]! + x[k]! * north[c]!;
      const fx = xx[t]! * gx + xy[t]! * gy;
      const fy = xy[t]! * gx + yy[t]! * gy;
      out[i]! += east[a]! * fx + north[a]! * fy;
      out[j]! += east[b]! * fx + north[b]! * fy;
      out[k]! += east[c]! * fx + north[c]! * fy;
    }
  };
  // Heights over the mean sine of the slope are near already; what parts of the bed differ by comes from them.
  const scale = sines > 0 ? weights / sines : 0;
  const values = Float64Array.from(zM, (z) => z * Math.min(scale, 200));
  conjugateGradients(apply, diagonal, rhs, values);

  const density = new Float64Array(count);
  const offContourDeg = new Float64Array(count);
  for (let t = 0; t < count; t++) {
    const [gx, gy] = gradientIn(grid, zM, t);
    const [fx, fy] = gradientIn(grid, values, t);
    const slope = Math.hypot(gx, gy);
    const [ux, uy] = slope > 0 ? [gx / slope, gy / slope] : [1, 0];
    const [onSlope, along] = [(fx * ux + fy * uy) / Math.sqrt(1 + slope * slope), fy * ux - fx * uy];
    density[t] = Math.hypot(onSlope, along);
    offContourDeg[t] =
      slope < LEVEL
        ? 0
        : (Math.atan2(Math.abs(fy * ux - fx * uy), Math.abs(fx * ux + fy * uy)) * 180) / Math.PI;
  }
  return { values, density, offContourDeg, slopePercent };
}

/** Solves `apply(x) = rhs` from the values given, which it replaces. */
function conjugateGradients(
  apply: (x: Float64Array, out: Float64Array) => void,
  diagonal: Float64Array,
  rhs: Float64Array,
  x: Float64Array,
): void {
  const n = x.length;
  const [r, z, p, q] = [0, 1, 2, 3].map(() => new Float64Array(n)) as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  const dot = (a: Float64Array, b: Float64Array): number => {
    let sum = 0;
    for (let i = 0; i < n; i++) sum += a[i]! * b[i]!;
    return sum;
  };
  apply(x, q);
  for (let i = 0; i < n; i++) {
    r[i] = rhs[i]! - q[i]!;
    z[i] = r[i]! / diagonal[i]!;
    p[i] = z[i]!;
  }
  let rz = dot(r, z);
  const enough = PRECISION ** 2 * Math.max(dot(rhs, rhs), 1e-30);
  for (let k = 0; k < MOST_ITERATIONS && dot(r, r) > enough; k++) {
    apply(p, q);
    const pq = dot(p, q);
    if (!(pq > 0)) return;
    const step = rz / pq;
    for (let i = 0; i < n; i++) {
      x[i]! += step * p[i]!;
      r[i]! -= step * q[i]!;
      z[i] = r[i]! / diagonal[i]!;
    }
    const next = dot(r, z);
    const share = next / rz;
    rz = next;
    for (let i = 0; i < n; i++) p[i] = z[i]! + share * p[i]!;
  }
}
