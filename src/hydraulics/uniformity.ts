/**
 * Figures of uniformity over flows of outlets (any unit, all the same). Each is NaN for no flows or a mean of zero.
 * Formulas: Christiansen (1942) for CU; distribution uniformity of the low quarter as used in field evaluations
 * (Merriam and Keller 1978); design emission uniformity after Keller and Karmeli (1974); statistical uniformity after
 * Bralts. Titles from memory; the check values in the tests are computed by hand from the formulas.
 */
function mean(values: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i]!;
  return sum / values.length;
}

/** Christiansen's coefficient, percent: 100 (1 - mean deviation / mean). */
export function cu(flows: ArrayLike<number>): number {
  const m = mean(flows);
  let deviation = 0;
  for (let i = 0; i < flows.length; i++) deviation += Math.abs(flows[i]! - m);
  return 100 * (1 - deviation / flows.length / m);
}

/**
 * Distribution uniformity of the low quarter, percent: mean of the lowest quarter over the mean. Where a quarter of
 * the count is not whole, the next value counts by the fraction.
 */
export function dulq(flows: ArrayLike<number>): number {
  const sorted = Float64Array.from(flows).sort();
  const quarter = sorted.length / 4;
  const whole = Math.floor(quarter);
  let sum = 0;
  for (let i = 0; i < whole; i++) sum += sorted[i]!;
  if (quarter > whole) sum += (quarter - whole) * sorted[whole]!;
  return (100 * (sum / quarter)) / mean(sorted);
}

/** Flow variation, percent: 100 (max - min) / max. */
export function flowVariation(flows: ArrayLike<number>): number {
  let min = Infinity;
  let max = -Infinity;
  for (let i = 0; i < flows.length; i++) {
    min = Math.min(min, flows[i]!);
    max = Math.max(max, flows[i]!);
  }
  return (100 * (max - min)) / max;
}

/**
 * Statistical uniformity, percent: 100 (1 - standard deviation / mean).
 * @param sample true: deviation of a sample (n - 1); false: of all outlets (n).
 */
export function statisticalUniformity(flows: ArrayLike<number>, sample = true): number {
  const m = mean(flows);
  let squares = 0;
  for (let i = 0; i < flows.length; i++) squares += (flows[i]! - m) ** 2;
  return 100 * (1 - Math.sqrt(squares / (flows.length - (sample ? 1 : 0))) / m);
}

/**
 * Design emission uniformity, percent: 100 (1 - 1.27 Cv / sqrt(e)) qmin / qmean.
 * @param manufacturingCv coefficient of variation of new outlets, a fraction from 0 to 1 (0.05, not 5).
 * @param outletsPerPlant e, 1 or more.
 * @param minOverMean lowest flow over mean flow, 0 to 1.
 * @throws RangeError when the coefficient or the count is outside its range.
 */
export function designEu(manufacturingCv: number, outletsPerPlant: number, minOverMean: number): number {
  if (!(manufacturingCv >= 0 && manufacturingCv <= 1)) {
    throw new RangeError(`The coefficient of variation is ${manufacturingCv}; give a fraction from 0 to 1.`);
  }
  if (!(outletsPerPlant >= 1)) {
    throw new RangeError(`Outlets per plant is ${outletsPerPlant}; give 1 or more.`);
  }
  return 100 * (1 - (1.27 * manufacturingCv) / Math.sqrt(outletsPerPlant)) * minOverMean;
}
