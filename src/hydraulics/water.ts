/**
 * Kinematic viscosity of fresh water, m2/s, every ten degrees from 0 to 40 °C: ratio of the viscosity and density
 * printed in the Hydraulic Institute Engineering Data Book (1990), table of the properties of water.
 */
const TABLE_STEP_C = 10;
const TABLE_M2S = [1.7916e-6, 1.3061e-6, 1.0032e-6, 8.007e-7, 6.58e-7] as const;

/** Range of the table, degrees Celsius. */
export const WATER_RANGE_C = { from: 0, to: TABLE_STEP_C * (TABLE_M2S.length - 1) } as const;

/**
 * Kinematic viscosity of water at a temperature in degrees Celsius, m2/s. The logarithm of the table is
 * interpolated by the polynomial through all five points, since it is nearly straight. Outside 0 to 40 °C the
 * value at the nearer end is given; NaN is read as 20 °C.
 */
export function viscosity(temperatureC: number): number {
  if (Number.isNaN(temperatureC)) return TABLE_M2S[2];
  const at = Math.min(Math.max(temperatureC, WATER_RANGE_C.from), WATER_RANGE_C.to) / TABLE_STEP_C;
  let sum = 0;
  for (const [i, value] of TABLE_M2S.entries()) {
    let weight = Math.log(value);
    for (let j = 0; j < TABLE_M2S.length; j++) {
      if (j !== i) weight *= (at - j) / (i - j);
    }
    sum += weight;
  }
  return Math.exp(sum);
}
