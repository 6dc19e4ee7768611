/** The hydraulic engine: a network of plain numbers in, heads, flows and findings out. */
export { LINK } from './network.ts';
export type { Finding, LinkKind, Links, LossCurve, Network, Nodes, Outlets, Solution } from './network.ts';
export { solve } from './solve.ts';
export {
  frictionFactor,
  frictionFactorSlope,
  hazenWilliamsLoss,
  headLoss,
  multipleOutletFactor,
  reynolds,
  velocity,
  type Pipe,
} from './friction.ts';
export { curveLoss } from './curve.ts';
export { NEAR_ZERO_M, outletCoefficient, outletFlow, type OutletLaw } from './outlet.ts';
export { cu, designEu, dulq, flowVariation, statisticalUniformity } from './uniformity.ts';
export { GRAVITY_MS2, headToKpa, KPA_PER_METRE, kpaToHead, lphToM3s, m3sToLph } from './units.ts';
export { viscosity, WATER_RANGE_C } from './water.ts';
