import { GRAVITY_MS2 } from './units.ts';

/**
 * Pipe friction. The factor f of Darcy and Weisbach, h = f (L/d) V²/2g, in three ranges:
 * laminar 64/Re below Re 2000; from 2000 to 4000 the cubic of Dunlop (1991) that joins both sides with their slopes;
 * above 4000 the formula of Swamee and Jain (1976). All as in the EPANET 2.2 user manual, EPA/600/R-20/133,
 * chapter 12, except the sign in the term FB of the cubic: it is printed as minus, but only plus joins the slope at
 * Re 4000, as the tests show.
 */
export const LAMINAR_RE = 2000;
export const TURBULENT_RE = 4000;

/** Swamee and Jain: 0.25 / log10(e/3.7d + 5.74/Re^0.9)². */
export const SWAMEE_JAIN = { scale: 0.25, roughnessDivisor: 3.7, reScale: 5.74, reExponent: 0.9 } as const;

const {
  scale: SJ_SCALE,
  roughnessDivisor: SJ_DIVISOR,
  reScale: SJ_RE,
  reExponent: SJ_EXPONENT,
} = SWAMEE_JAIN;
/** 5.74 / 4000^0.9. */
const AB = SJ_RE / Math.pow(TURBULENT_RE, SJ_EXPONENT);
/** -4 * 0.9 / ln 10, from the slope of Swamee and Jain at Re 4000. */
const AA = (-4 * SJ_EXPONENT) / Math.LN10;

/** Coefficients of f = c0 + c1 r + c2 r² + c3 r³ with r = Re/2000, for a relative roughness e/d. */
export function criticalCubic(relativeRoughness: number): readonly [number, number, number, number] {
  const y2 = relativeRoughness / SJ_DIVISOR + AB;
  const y3 = -2 * Math.log10(y2);
  const fa = 1 / (y3 * y3);
  const fb = fa * (2 + (AA * AB) / (y2 * y3));
  return [7 * fa - fb, 0.128 - 17 * fa + 2.5 * fb, -0.128 + 13 * fa - 2 * fb, 0.032 - 3 * fa + 0.5 * fb];
}

/**
 * Friction factor of Darcy and Weisbach.
 * @param re Reynolds number, above 0; 0 or less gives Infinity.
 * @param relativeRoughness roughness over bore, 0 (smooth) to 0.05.
 */
export function frictionFactor(re: number, relativeRoughness: number): number {
  if (re <= 0) return Infinity;
  if (re < LAMINAR_RE) return 64 / re;
  if (re <= TURBULENT_RE) {
    const [c0, c1, c2, c3] = criticalCubic(relativeRoughness);
    const r = re / LAMINAR_RE;
    return c0 + r * (c1 + r * (c2 + r * c3));
  }
  const y = Math.log10(relativeRoughness / SJ_DIVISOR + SJ_RE * Math.pow(re, -SJ_EXPONENT));
  return SJ_SCALE / (y * y);
}

/** Exponents of Hazen and Williams on flow and bore. */
const HW_FLOW = 1.852;
const HW_BORE = 4.871;
/** Metres and seconds (EPANET 2.2 manual, table of head loss formulas, converted). */
const HW_SCALE = 10.667;
/** Exponent of the Reynolds number in the friction factor that comes to the same: of flow, 1.852 less 2. */
const HW_RE = HW_FLOW - 2;

/**
 * The constant K of the friction factor K Re^-0.148 that loses as much as Hazen and Williams say, for a bore in metres
 * and a coefficient C; the viscosity drops out again with the Reynolds number.
 */
export function hazenWilliamsFactor(boreM: number, coefficientC: number, viscosityM2s: number): number {
  const flowPerRe = (Math.PI * boreM * viscosityM2s) / 4;
  const perSquare = (HW_SCALE * 2 * GRAVITY_MS2 * Math.PI ** 2) / 16;
  return (
    (perSquare * Math.pow(boreM, 5 - HW_BORE) * Math.pow(flowPerRe, HW_RE)) / Math.pow(coefficientC, HW_FLOW)
  );
}

/**
 * The law of a size of pipe in turbulent flow, as one number: its relative roughness, or less than zero the constant of
 * `hazenWilliamsFactor`. Gives the friction factor at a Reynolds number of 4000 and more.
 */
export function turbulentFactor(re: number, law: number): number {
  return law < 0 ? -law * Math.pow(re, HW_RE) : frictionFactor(re, law);
}

/** Slope of `turbulentFactor` with the Reynolds number; same arguments. */
export function turbulentFactorSlope(re: number, law: number): number {
  return law < 0 ? (-law * HW_RE * Math.pow(re, HW_RE)) / re : frictionFactorSlope(re, law);
}

/**
 * Coefficients between laminar and turbulent flow, as of `criticalCubic`. After Hazen and Williams, who have no law for
 * it, the cubic that meets 64/Re at 2000 and their law at 4000 in value and slope.
 */
export function transitionCubic(law: number): readonly [number, number, number, number] {
  if (law >= 0) return criticalCubic(law);
  // With t from 0 at Re 2000 to 1 at Re 4000: values and slopes at the ends.
  const f0 = 64 / LAMINAR_RE;
  const m0 = -f0;
  const f1 = turbulentFactor(TURBULENT_RE, law);
  const m1 = turbulentFactorSlope(TURBULENT_RE, law) * LAMINAR_RE;
  const d2 = 3 * (f1 - f0) - 2 * m0 - m1;
  const d3 = m0 + m1 - 2 * (f1 - f0);
  // t = r - 1 with r = Re/2000.
  return [f0 - m0 + d2 - d3, m0 - 2 * d2 + 3 * d3, d2 - 3 * d3, d3];
}

/** Slope of `frictionFactor` with the Reynolds number; same arguments. */
export function frictionFactorSlope(re: number, relativeRoughness: number): number {
  if (re <= 0) return -Infinity;
  if (re < LAMINAR_RE) return -64 / (re * re);
  if (re <= TURBULENT_RE) {
    const [, c1, c2, c3] = criticalCubic(relativeRoughness);
    const r = re / LAMINAR_RE;
    return (c1 + r * (2 * c2 + r * 3 * c3)) / LAMINAR_RE;
  }
  const power = SJ_RE * Math.pow(re, -SJ_EXPONENT);
  const inside = relativeRoughness / SJ_DIVISOR + power;
  const y = Math.log10(inside);
  return (2 * SJ_SCALE * SJ_EXPONENT * power) / (Math.LN10 * inside * re * y * y * y);
}

/** Reynolds number 4Q / (pi d nu) of a round pipe; flow in m3/s of either sign, bore in m, viscosity in m2/s. */
export function reynolds(flowM3s: number, boreM: number, viscosityM2s: number): number {
  return (4 * Math.abs(flowM3s)) / (Math.PI * boreM * viscosityM2s);
}

/** Mean velocity, m/s, of a flow in m3/s in a round bore in metres. */
export function velocity(flowM3s: number, boreM: number): number {
  return (4 * flowM3s) / (Math.PI * boreM * boreM);
}

export interface Pipe {
  /** Length with all equivalent lengths, m. */
  readonly lengthM: number;
  readonly boreM: number;
  readonly roughnessM: number;
  /** Sum of loss coefficients on the velocity head of the bore. */
  readonly lossK?: number;
}

/**
 * Head lost in a pipe, m, with the sign of the flow: friction after Darcy and Weisbach, h = 8 f L Q² / (pi² g d^5),
 * and local losses K V²/2g. Flow in m3/s, viscosity in m2/s.
 */
export function headLoss(pipe: Pipe, flowM3s: number, viscosityM2s: number): number {
  if (flowM3s === 0) return 0;
  const re = reynolds(flowM3s, pipe.boreM, viscosityM2s);
  const f = frictionFactor(re, pipe.roughnessM / pipe.boreM);
  const velocityHead = velocity(flowM3s, pipe.boreM) ** 2 / (2 * GRAVITY_MS2);
  return Math.sign(flowM3s) * velocityHead * ((f * pipe.lengthM) / pipe.boreM + (pipe.lossK ?? 0));
}

/**
 * Head lost after Hazen and Williams, m, with the sign of the flow: 10.667 L Q^1.852 / (C^1.852 d^4.871), SI units
 * (EPANET 2.2 manual, table of head loss formulas, converted). Only for turbulent flow of water in pipes from about
 * 12 mm; in a network the solver takes laminar flow and the transition as ever (`hazenWilliamsFactor`).
 * @param coefficientC 140 to 150 for large plastic pipe.
 */
export function hazenWilliamsLoss(
  flowM3s: number,
  lengthM: number,
  boreM: number,
  coefficientC: number,
): number {
  const size = Math.pow(Math.abs(flowM3s) / coefficientC, HW_FLOW);
  return (Math.sign(flowM3s) * HW_SCALE * lengthM * size) / Math.pow(boreM, HW_BORE);
}

/**
 * Share of the head loss of a pipe without outlets that remains when `count` equal outlets, the first one whole
 * spacing from the inlet, take all the water: sum of k^m over N^(m+1). `exponent` m: 1.75, 1.852 or 2.
 */
export function multipleOutletFactor(count: number, exponent: number): number {
  let sum = 0;
  for (let k = 1; k <= count; k++) sum += Math.pow(k, exponent);
  return sum / Math.pow(count, exponent + 1);
}
