import type { Sourced } from './source.ts';

/** Coefficient C of Hazen and Williams for plastic tubing up to a bore. */
export interface HazenWilliamsC extends Sourced {
  /** Largest bore for which it holds, mm. */
  readonly upToMm: number;
  readonly coefficientC: number;
}

// The figures are from memory: Howell and others 1983, smaller C for smaller tubing.
const source = 'Howell and others 1983: C of 130 at 14 to 15 mm, 140 at 18 to 19 mm, 150 at 25 to 27 mm';

export const HAZEN_WILLIAMS_C: readonly HazenWilliamsC[] = [
  { upToMm: 16.5, coefficientC: 130, source },
  { upToMm: 22, coefficientC: 140, source },
  { upToMm: Infinity, coefficientC: 150, source },
];

/** Under this bore the law is several times off and is never used, mm (common practice). */
export const HAZEN_WILLIAMS_FROM_MM = 12;

/** C for a bore in mm; NaN where the law does not hold. */
export function hazenWilliamsC(boreMm: number): number {
  if (!(boreMm >= HAZEN_WILLIAMS_FROM_MM)) return NaN;
  return HAZEN_WILLIAMS_C.find((entry) => boreMm <= entry.upToMm)!.coefficientC;
}
