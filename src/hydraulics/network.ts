/**
 * What the solver takes and gives: plain numbers in typed arrays, no ids, no names. Heads in metres of water,
 * flows in m3/s, lengths and bores in metres. Indices run from 0; -1 means none.
 */

/** Kinds of link. */
export const LINK = { pipe: 0, regulator: 1, loss: 2, check: 3 } as const;
export type LinkKind = (typeof LINK)[keyof typeof LINK];

/**
 * Head lost against flow, both rising from (0, 0); monotone between the points, extended by a power law. For a check
 * valve alone the first point may have a loss at zero flow: the head that it takes to open.
 */
export interface LossCurve {
  readonly flowM3s: Float64Array;
  readonly lossM: Float64Array;
}

export interface Nodes {
  readonly count: number;
  readonly elevationM: Float64Array;
  /** Total head (elevation + pressure head) held at the node; NaN where the head is free. */
  readonly fixedHeadM: Float64Array;
}

export interface Links {
  readonly count: number;
  readonly from: Int32Array;
  readonly to: Int32Array;
  readonly kind: Uint8Array;
  /** Pipe: length on the ground. */
  readonly lengthM: Float64Array;
  /** Pipe: extra length that stands for joints and emitter bodies. */
  readonly extraLengthM: Float64Array;
  readonly boreM: Float64Array;
  readonly roughnessM: Float64Array;
  /**
   * Pipe: coefficient C of Hazen and Williams, 1 to 300, which then takes the place of the roughness in turbulent flow;
   * NaN, or no array: the law of Darcy and Weisbach.
   */
  readonly hazenWilliamsC?: Float64Array;
  /** Sum of loss coefficients K on the velocity head of the bore. */
  readonly lossK: Float64Array;
  /** Regulator: pressure head that it holds at its outlet, metres above the outlet's elevation. */
  readonly settingM: Float64Array;
  /** Loss, check valve, regulator wide open: index into `curves`, or -1 for no loss. */
  readonly curve: Int32Array;
}

export interface Outlets {
  readonly count: number;
  readonly node: Int32Array;
  /** q = coefficient * h^exponent, m3/s for h in metres; for a compensating outlet the law under its minimum. */
  readonly coefficient: Float64Array;
  readonly exponent: Float64Array;
  /** Compensating outlets: flow inside the range, m3/s; NaN for others. */
  readonly ratedM3s: Float64Array;
  /** Compensating outlets: pressure head at which the range begins, metres; NaN for others. */
  readonly rangeFromM: Float64Array;
  /** Compensating outlets: residual exponent inside the range, 0 to 0.1. */
  readonly residualExponent: Float64Array;
  /** Height of the outlet above its node, metres. */
  readonly riseM: Float64Array;
  /**
   * Outlets with a check: pressure head up to which they give nothing, metres, below the start of the range of a
   * compensating one; NaN for none. Without the array no outlet has a check.
   */
  readonly closingM?: Float64Array;
  /** Share of the outlet that is not clogged, 0 (shut) to 1; it multiplies the flow. Without the array all are open. */
  readonly openShare?: Float64Array;
}

export interface Network {
  readonly nodes: Nodes;
  readonly links: Links;
  readonly outlets: Outlets;
  readonly curves: readonly LossCurve[];
  /** Kinematic viscosity, m2/s. */
  readonly viscosityM2s: number;
}

/** Something that the solver wants to say about parts of the network, by index. */
export interface Finding {
  readonly kind:
    | 'no-source'
    | 'not-connected'
    | 'regulator-open'
    | 'regulator-reversed'
    | 'outlet-dry'
    | 'not-converged'
    | 'bad-value';
  readonly nodes: readonly number[];
  readonly links: readonly number[];
  readonly outlets: readonly number[];
  readonly message: string;
}

export interface Solution {
  /** Total head at each node, metres; NaN where the node has no way to a source. */
  readonly headM: Float64Array;
  /** Flow from `from` to `to`, m3/s. */
  readonly flowM3s: Float64Array;
  /** Flow out of each outlet, m3/s. */
  readonly outletM3s: Float64Array;
  readonly converged: boolean;
  readonly iterations: number;
  /** Largest node imbalance, m3/s, and largest head imbalance along a link, m, computed apart from the iteration. */
  readonly massErrorM3s: number;
  readonly energyErrorM: number;
  readonly findings: readonly Finding[];
}
