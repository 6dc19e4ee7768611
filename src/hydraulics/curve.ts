import type { LossCurve } from './network.ts';

/** A loss curve made ready: points from (0, 0), the slope at each, and the power law past the last. */
export interface ReadyCurve {
  /** Head that it takes to open, m: the loss at zero flow, which the points here do not hold. */
  readonly openingM: number;
  readonly flowM3s: Float64Array;
  readonly lossM: Float64Array;
  readonly slope: Float64Array;
  readonly tailExponent: number;
}

/** What is wrong with a loss curve, in words; null when it can be used. */
export function faultOfCurve(curve: LossCurve): string | null {
  const { flowM3s, lossM } = curve;
  if (flowM3s.length !== lossM.length) return 'has a different number of flows and losses';
  const last = flowM3s.length - 1;
  if (last < 0 || !(flowM3s[last]! > 0)) return 'has no point with a flow above zero';
  for (let i = 0; i <= last; i++) {
    const flow = flowM3s[i]!;
    const loss = lossM[i]!;
    if (!Number.isFinite(flow) || !Number.isFinite(loss) || flow < 0 || loss < 0) {
      return `has a flow or loss that is not a number of zero or more at point ${i}`;
    }
    if (i > 0 && !(flow > flowM3s[i - 1]!)) return `does not rise in flow at point ${i}`;
    if (i > 0 && loss < lossM[i - 1]!) return `falls in loss at point ${i}`;
  }
  return null;
}

/**
 * Prepares a curve without fault for evaluation. Between the points runs the monotone cubic of Fritsch and Carlson
 * (SIAM Journal on Numerical Analysis 17, 1980); past the last point a power law through the last two, its exponent
 * kept within 1 to 3 (2 where there is only one point).
 */
export function readyCurve(curve: LossCurve): ReadyCurve {
  const skip = curve.flowM3s[0] === 0 ? 1 : 0;
  const count = curve.flowM3s.length - skip + 1;
  const q = new Float64Array(count);
  const h = new Float64Array(count);
  q.set(curve.flowM3s.subarray(skip), 1);
  h.set(curve.lossM.subarray(skip), 1);
  const openingM = skip === 1 ? curve.lossM[0]! : 0;
  for (let i = 1; i < count; i++) h[i]! -= openingM;

  const last = count - 1;
  let tailExponent = 2;
  if (count > 2 && h[last - 1]! > 0) {
    const exponent = Math.log(h[last]! / h[last - 1]!) / Math.log(q[last]! / q[last - 1]!);
    tailExponent = Math.min(Math.max(exponent, 1), 3);
  }

  const rise = new Float64Array(last);
  for (let i = 0; i < last; i++) rise[i] = (h[i + 1]! - h[i]!) / (q[i + 1]! - q[i]!);
  const slope = new Float64Array(count);
  for (let i = 1; i < last; i++) {
    const before = rise[i - 1]!;
    const after = rise[i]!;
    // Weighted harmonic mean: keeps the cubic monotone on both sides.
    const wBefore = 2 * (q[i + 1]! - q[i]!) + (q[i]! - q[i - 1]!);
    const wAfter = q[i + 1]! - q[i]! + 2 * (q[i]! - q[i - 1]!);
    slope[i] = before > 0 && after > 0 ? (wBefore + wAfter) / (wBefore / before + wAfter / after) : 0;
  }
  slope[last] = Math.min((tailExponent * h[last]!) / q[last]!, 3 * rise[last - 1]!);
  // A single point is taken as a square law; otherwise the first piece starts as the quadratic that ends in slope 1.
  slope[0] = Math.max(0, Math.min(2 * rise[0]! - slope[1]!, 3 * rise[0]!));
  return { openingM, flowM3s: q, lossM: h, slope, tailExponent };
}

/**
 * Head lost at a flow beyond what it takes to open, m, and its slope, s/m2, written to `out[0]` and `out[1]`. The loss
 * takes the sign of the flow.
 */
export function evaluateCurve(curve: ReadyCurve, flowM3s: number, out: Float64Array): void {
  const { flowM3s: q, lossM: h, slope } = curve;
  const size = Math.abs(flowM3s);
  const last = q.length - 1;
  let loss: number;
  let rise: number;
  if (size >= q[last]!) {
    loss = h[last]! * Math.pow(size / q[last]!, curve.tailExponent);
    rise = (curve.tailExponent * loss) / size;
  } else {
    let i = 0;
    while (size >= q[i + 1]!) i++;
    const width = q[i + 1]! - q[i]!;
    const t = (size - q[i]!) / width;
    const secant = (h[i + 1]! - h[i]!) / width;
    const c2 = 3 * secant - 2 * slope[i]! - slope[i + 1]!;
    const c3 = slope[i]! + slope[i + 1]! - 2 * secant;
    loss = h[i]! + width * t * (slope[i]! + t * (c2 + t * c3));
    rise = slope[i]! + t * (2 * c2 + t * 3 * c3);
  }
  out[0] = flowM3s < 0 ? -loss : loss;
  out[1] = Math.max(rise, 0);
}

/**
 * Head lost at a flow in m3/s by a loss curve, m, with the sign of the flow; at no flow 0, whatever it takes to open.
 * The curve must be without fault.
 */
export function curveLoss(curve: LossCurve, flowM3s: number): number {
  const out = new Float64Array(2);
  const ready = readyCurve(curve);
  evaluateCurve(ready, flowM3s, out);
  return out[0]! + Math.sign(flowM3s) * ready.openingM;
}
