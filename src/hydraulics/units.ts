/**
 * Conversions at the solver's door. Outside: kilopascals and litres per hour; inside: metres of water and m3/s.
 */

/** Standard gravity, m/s2 (exact by definition: General Conference on Weights and Measures, 1901). */
export const GRAVITY_MS2 = 9.80665;

/** Pressure of one metre of water of 1000 kg/m3 under standard gravity, kPa. */
export const KPA_PER_METRE = GRAVITY_MS2;

const LITRES_PER_M3 = 1000;
const SECONDS_PER_HOUR = 3600;

/** Metres of water for a pressure in kPa. */
export function kpaToHead(pressureKpa: number): number {
  return pressureKpa / KPA_PER_METRE;
}

/** Pressure in kPa for metres of water. */
export function headToKpa(headM: number): number {
  return headM * KPA_PER_METRE;
}

/** m3/s for a flow in L/h. */
export function lphToM3s(flowLph: number): number {
  return flowLph / (LITRES_PER_M3 * SECONDS_PER_HOUR);
}

/** L/h for a flow in m3/s. */
export function m3sToLph(flowM3s: number): number {
  return flowM3s * (LITRES_PER_M3 * SECONDS_PER_HOUR);
}
