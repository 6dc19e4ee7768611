import { FOOT_M, GPM_LPH, PSI_KPA } from '../base/units.ts';
import type { Sourced } from './source.ts';

/** Flow of a common full-circle spray nozzle. */
export interface SprayFlow extends Sourced {
  readonly radiusM: number;
  readonly flowLph: number;
}

/** Pressure that the flows are for, kPa. */
export const SPRAY_PRESSURE_KPA = 30 * PSI_KPA;

/** Radius and sweep of a head of which only the kind is known, until they are measured: metres, degrees. */
export const FIRST_SPRAY = {
  radiusM: 10 * FOOT_M,
  sweepDeg: 180,
  stripM: [15 * FOOT_M, 4 * FOOT_M],
} as const;

// From memory, to be checked.
const source =
  'common practice: full-circle spray nozzles at 30 psi; a part circle takes its share of the sweep';

export const SPRAY_FLOWS: readonly SprayFlow[] = [
  { radiusM: 10 * FOOT_M, flowLph: 1.58 * GPM_LPH, source },
  { radiusM: 12 * FOOT_M, flowLph: 2.6 * GPM_LPH, source },
  { radiusM: 15 * FOOT_M, flowLph: 3.7 * GPM_LPH, source },
];

/** How far a radius may be from a listed one, metres: nozzles are sold by the foot, and their screws take some off. */
const NEAR_M = FOOT_M;

/** What a head usually gives. */
export interface UsualFlow extends Sourced {
  readonly flowLph: number;
  readonly pressureKpa: number;
}

/**
 * Usual flow of a spray head by radius (metres) and sweep (degrees, 0 to 360), L/h at the pressure given with it:
 * that of the full circle, between the listed radii in proportion, times the share of the sweep. `null` more than a
 * foot outside the listed radii, and without a sweep.
 */
export function usualSprayFlow(radiusM: number, sweepDeg: number): UsualFlow | null {
  const sweep = Math.min(Math.abs(sweepDeg), 360);
  const first = SPRAY_FLOWS[0]!;
  const last = SPRAY_FLOWS.at(-1)!;
  if (!(sweep > 0) || !(radiusM >= first.radiusM - NEAR_M && radiusM <= last.radiusM + NEAR_M)) return null;
  const r = Math.min(Math.max(radiusM, first.radiusM), last.radiusM);
  const above = SPRAY_FLOWS.find((entry) => entry.radiusM >= r - 1e-9) ?? last;
  const below = SPRAY_FLOWS.findLast((entry) => entry.radiusM <= r + 1e-9) ?? first;
  const span = above.radiusM - below.radiusM;
  const share = span > 1e-9 ? (r - below.radiusM) / span : 0;
  const full = below.flowLph + (above.flowLph - below.flowLph) * share;
  return { flowLph: (full * sweep) / 360, pressureKpa: SPRAY_PRESSURE_KPA, source };
}
