import type { Outlets } from './network.ts';

/**
 * How much an outlet gives at a pressure. Plain: q = k h^x. Compensating: k h^x under its range, inside the range
 * rated (h / start of range)^residual. No outlet ever draws: q = 0 for h <= 0.
 *
 * Under `NEAR_ZERO_M` the power law is replaced by a straight line to the origin: the slope of h^0.5 has no limit
 * there, and from a point on a straight line Newton's step finds the head of a starved outlet at once. Over the last
 * `BLEND_SHARE` under the start of the range a cubic leads from one law to the other without a corner.
 *
 * With a check q = 0 up to the closing pressure; a cubic over the next `OPENING_SHARE` of it, or up to the start of the
 * range where that comes first, leads to the law, which holds unchanged from there on. Clogging multiplies the flow.
 */
export const NEAR_ZERO_M = 0.05;
export const BLEND_SHARE = 0.01;
export const OPENING_SHARE = 0.1;

/** The law of one outlet; the same fields as in `Outlets`. */
export interface OutletLaw {
  readonly coefficient: number;
  readonly exponent: number;
  /** NaN for a plain outlet. */
  readonly ratedM3s: number;
  readonly rangeFromM: number;
  readonly residualExponent: number;
  /** Pressure head up to which a check holds the outlet shut, m; without it, or NaN, there is no check. */
  readonly closingM?: number;
  /** Share that is not clogged, 0 to 1; 1 when not given. */
  readonly openShare?: number;
}

function power(base: number, exponent: number): number {
  return exponent === 0.5 ? Math.sqrt(base) : exponent === 1 ? base : Math.pow(base, exponent);
}

/** Writes flow (m3/s) and slope (m2/s) of a plain power law at pressure head h > 0. */
function plainLaw(coefficient: number, exponent: number, h: number, out: Float64Array): void {
  if (h >= NEAR_ZERO_M) {
    const q = coefficient * power(h, exponent);
    out[0] = q;
    out[1] = (exponent * q) / h;
    return;
  }
  const slope = (coefficient * power(NEAR_ZERO_M, exponent)) / NEAR_ZERO_M;
  out[0] = slope * h;
  out[1] = slope;
}

/**
 * Flow in m3/s (`out[0]`) and its slope with pressure head in m2/s (`out[1]`) of outlet `i` at pressure head `h`, m.
 * Exponents 0 to 2.
 */
export function evaluateOutlet(outlets: Outlets, i: number, h: number, out: Float64Array): void {
  const share = outlets.openShare === undefined ? 1 : outlets.openShare[i]!;
  const closing = outlets.closingM === undefined ? NaN : outlets.closingM[i]!;
  if (!(h > 0) || h <= closing || share === 0) {
    out[0] = 0;
    out[1] = 0;
    return;
  }
  if (closing > 0) checkedLaw(outlets, i, h, closing, out);
  else openLaw(outlets, i, h, out);
  if (share < 1) {
    out[0]! *= share;
    out[1]! *= share;
  }
}

/** The law of an outlet whose check closes at the pressure head `closing`, for h above it. */
function checkedLaw(outlets: Outlets, i: number, h: number, closing: number, out: Float64Array): void {
  const from = outlets.rangeFromM[i]!;
  const wide = closing * (1 + OPENING_SHARE);
  const open = !Number.isNaN(outlets.ratedM3s[i]!) && from < wide ? from : wide;
  if (h >= open) {
    openLaw(outlets, i, h, out);
    return;
  }
  openLaw(outlets, i, open, out);
  const width = open - closing;
  const q1 = out[0]!;
  // Steeper than this the cubic would rise above its end first.
  const m1 = Math.min(out[1]! * width, 3 * q1);
  const t = (h - closing) / width;
  const c2 = 3 * q1 - m1;
  const c3 = m1 - 2 * q1;
  out[0] = t * t * (c2 + t * c3);
  out[1] = (t * (2 * c2 + t * 3 * c3)) / width;
}

/** The law without check and clogging, for h > 0. */
function openLaw(outlets: Outlets, i: number, h: number, out: Float64Array): void {
  const rated = outlets.ratedM3s[i]!;
  if (Number.isNaN(rated)) {
    plainLaw(outlets.coefficient[i]!, outlets.exponent[i]!, h, out);
    return;
  }
  const from = outlets.rangeFromM[i]!;
  const residual = outlets.residualExponent[i]!;
  if (h >= from) {
    const q = residual === 0 ? rated : rated * Math.pow(h / from, residual);
    out[0] = q;
    out[1] = (residual * q) / h;
    return;
  }
  const exponent = outlets.exponent[i]!;
  // A lower law that would give more than rated flow at the start of the range is brought down to it.
  const atStart = rated / power(from, exponent);
  const given = outlets.coefficient[i]!;
  const coefficient = given <= atStart ? given : atStart;
  const blendFrom = from * (1 - BLEND_SHARE);
  if (h <= blendFrom) {
    plainLaw(coefficient, exponent, h, out);
    return;
  }
  plainLaw(coefficient, exponent, blendFrom, out);
  const q0 = out[0]!;
  const width = from - blendFrom;
  const secant = (rated - q0) / width;
  const m0 = Math.min(out[1]!, 3 * secant);
  const m1 = Math.min((residual * rated) / from, 3 * secant);
  const t = (h - blendFrom) / width;
  const c2 = 3 * secant - 2 * m0 - m1;
  const c3 = m0 + m1 - 2 * secant;
  out[0] = q0 + width * t * (m0 + t * (c2 + t * c3));
  out[1] = m0 + t * (2 * c2 + t * 3 * c3);
}

/** Flow of one outlet, m3/s, at a pressure head in metres. */
export function outletFlow(law: OutletLaw, pressureHeadM: number): number {
  const out = new Float64Array(2);
  const one = (value: number) => Float64Array.of(value);
  evaluateOutlet(
    {
      count: 1,
      node: Int32Array.of(0),
      coefficient: one(law.coefficient),
      exponent: one(law.exponent),
      ratedM3s: one(law.ratedM3s),
      rangeFromM: one(law.rangeFromM),
      residualExponent: one(law.residualExponent),
      riseM: one(0),
      ...(law.closingM === undefined ? {} : { closingM: one(law.closingM) }),
      ...(law.openShare === undefined ? {} : { openShare: one(law.openShare) }),
    },
    0,
    pressureHeadM,
    out,
  );
  return out[0]!;
}

/** Coefficient k of q = k h^x that gives `flowM3s` at the pressure head `headM`, m3/s per m^x. */
export function outletCoefficient(flowM3s: number, headM: number, exponent: number): number {
  return flowM3s / power(headM, exponent);
}
