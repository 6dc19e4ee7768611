import {
  cu,
  designEu,
  dulq,
  flowVariation,
  lphToM3s,
  m3sToLph,
  outletCoefficient,
  outletFlow,
  statisticalUniformity,
} from '../../src/hydraulics/index.ts';
import { SOURCE, table, type Case, type Table } from './cases.ts';

const INCH_M = 0.0254;
const FOOT_M = 0.3048;
const GPM_M3S = 6.30901964e-5;

/** A sharp hole as an outlet: q = Cd (pi/4) d² sqrt(2 g h), with one Cd for the whole table. */
function holeGpm(diameterIn: number, headFt: number): number {
  const coefficient = 0.605 * (Math.PI / 4) * (diameterIn * INCH_M) ** 2 * Math.sqrt(2 * 9.80665);
  const law = {
    coefficient,
    exponent: 0.5,
    ratedM3s: NaN,
    rangeFromM: NaN,
    residualExponent: 0,
  };
  return outletFlow(law, headFt * FOOT_M) / GPM_M3S;
}

/** Hole in inches, head in feet, printed flow in US gallons a minute. */
const HOLES = [
  [0.5, 2.5, 4.73],
  [0.5, 3, 5.1],
  [0.5, 3.5, 5.6],
  [0.5, 4, 5.89],
  [0.5, 4.5, 6.35],
  [0.5, 5, 6.59],
  [0.25, 2.5, 1.18],
  [0.25, 3, 1.28],
  [0.25, 3.5, 1.4],
  [0.25, 4, 1.47],
  [0.25, 4.5, 1.59],
  [0.25, 5, 1.65],
] as const;
const holes: Case[] = HOLES.map(([d, h, gpm]) => ({
  name: `hole of ${d} in under ${h} ft: ${gpm} gpm`,
  got: () => holeGpm(d, h),
  expected: gpm,
  within: { share: 0.017 },
  source: SOURCE.newJersey,
}));

const compensating = {
  coefficient: outletCoefficient(lphToM3s(2.3), 7, 0.5),
  exponent: 0.5,
  ratedM3s: lphToM3s(2.3),
  rangeFromM: 7,
  residualExponent: 0,
};
/** Pressure head in m, flow in L/h by the sharp law without and with a residual exponent of 0.05. */
const COMPENSATING = [
  [0, 0, 0],
  [3.5, 1.62635, 1.6263],
  [5, 1.94385, 1.9439],
  [7, 2.3, 2.3],
  [10, 2.3, 2.3414],
  [20, 2.3, 2.424],
] as const;
const laws: Case[] = COMPENSATING.flatMap(([h, q, rising]) => [
  {
    name: `compensating outlet at ${h} m`,
    got: () => m3sToLph(outletFlow(compensating, h)),
    expected: q,
    within: { absolute: 1e-5 },
    source: SOURCE.exact,
  },
  {
    name: `the same with residual exponent 0.05 at ${h} m`,
    got: () => m3sToLph(outletFlow({ ...compensating, residualExponent: 0.05 }, h)),
    expected: rising,
    within: { absolute: 1e-4 },
    source: SOURCE.exact,
  },
]);

const SET_A = [2.0, 1.98, 1.95, 1.93, 2.02, 2.05, 1.9, 1.88, 1.97, 2.01, 1.99, 1.96, 1.94, 1.92, 2.03, 2.07];
const SET_B = [1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 0.5, 0.5, 0.5, 0.5];
const SET_C = [4, 4, 4, 4, 4, 4, 4, 2];
/** Seconds to fill a measure at 18 outlets. */
const FILL_TIMES = [64, 79, 67, 71, 75, 81, 68, 85, 75, 69, 85, 77, 89, 68, 81, 90, 65, 61];
const filled = FILL_TIMES.map((s) => 1 / s);

const figure = (
  name: string,
  got: () => number,
  expected: number,
  source: string,
  absolute = 1e-3,
): Case => ({
  name,
  got,
  expected,
  within: { absolute },
  source,
});
const uniformity: Case[] = [
  figure('low quarter, set A', () => dulq(SET_A), 96.5823, SOURCE.exact),
  figure('Christiansen, set A', () => cu(SET_A), 97.7848, SOURCE.exact),
  figure('statistical (n), set A', () => statisticalUniformity(SET_A, false), 97.3569, SOURCE.exact),
  figure('statistical (n - 1), set A', () => statisticalUniformity(SET_A), 97.2702, SOURCE.exact),
  figure('flow variation, set A', () => flowVariation(SET_A), 9.1787, SOURCE.exact),
  figure('low quarter, set B', () => dulq(SET_B), 57.1429, SOURCE.exact),
  figure('Christiansen, set B', () => cu(SET_B), 78.5714, SOURCE.exact),
  figure('statistical (n), set B', () => statisticalUniformity(SET_B, false), 75.2564, SOURCE.exact),
  figure('statistical (n - 1), set B', () => statisticalUniformity(SET_B), 74.4449, SOURCE.exact),
  figure('flow variation, set B', () => flowVariation(SET_B), 50, SOURCE.exact),
  figure('low quarter, set C', () => dulq(SET_C), 80, SOURCE.exact),
  figure('Christiansen, set C', () => cu(SET_C), 88.3333, SOURCE.exact),
  figure(
    'statistical (n), fill times',
    () => statisticalUniformity(filled, false),
    88.53,
    SOURCE.trade,
    0.005,
  ),
  figure('statistical (n - 1), fill times', () => statisticalUniformity(filled), 88.19, SOURCE.trade, 0.005),
  figure(
    'design EU: Cv 0.06, 2 outlets',
    () => designEu(0.06, 2, (100 / 120) ** 0.6),
    84.81,
    SOURCE.trade,
    0.005,
  ),
  figure('design EU: Cv 0.05, 1 outlet', () => designEu(0.05, 1, 0.95), 88.968, SOURCE.exact),
  figure('design EU: Cv 0.05, 2 outlets', () => designEu(0.05, 2, 0.95), 90.73, SOURCE.exact, 0.01),
  figure('design EU: Cv 0.07, 1 outlet', () => designEu(0.07, 1, 0.95), 86.55, SOURCE.exact, 0.01),
  figure('design EU: Cv 0.04, 4 outlets', () => designEu(0.04, 4, 0.9), 87.71, SOURCE.exact, 0.01),
];

/** Tables on outlets. */
export const outlets: readonly Table[] = [
  table('outlets: printed flow of holes', holes),
  table('outlets: compensating law', laws),
  table('uniformity', uniformity),
];
