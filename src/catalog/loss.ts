/** A point of a loss curve. */
export interface LossPoint {
  readonly flowLph: number;
  readonly lossKpa: number;
}

/** Which of the plausible curves of a part is meant, where makers differ. */
export type Plausible = 'lowest' | 'typical' | 'highest';

/** A point of a loss curve relative to a rated flow, for parts of several sizes. */
export interface SharePoint {
  /** Flow over rated flow. */
  readonly flowShare: number;
  readonly lossKpa: number;
}

/** The curve of one size. Both columns rise; at no flow there is no loss, so (0, 0) is not listed. */
export function lossPoints(points: readonly SharePoint[], ratedFlowLph: number): LossPoint[] {
  return points.map(({ flowShare, lossKpa }) => ({ flowLph: flowShare * ratedFlowLph, lossKpa }));
}

/**
 * Flow, as a share of the rated one, at which a spring-loaded part counts as open: from here on it takes its
 * opening pressure. Small, since the spring is there for the smallest drip zone too.
 */
export const OPEN_SHARE = 0.002;
