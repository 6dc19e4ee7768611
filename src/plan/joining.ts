/** When places of a plan count as one: read by the edits that keep things together, the network and the drawing. */

/** Two pieces of tubing, or tubing and a control set or supply, are joined where they come this near, metres. */
export const JOINT_TOLERANCE_M = 0.01;

/** A point emitter this near to its run sits on the tubing and needs no feeder, metres. */
export const ON_TUBING_M = 0.05;

/** A head or valve this near to an old pipe stands on it, metres: half a foot, as surveys have it. */
export const STANDS_ON_M = 0.1524;

/** Ends of old pipes this near to each other are one joint, metres (common practice: width of a trench). */
export const ONE_JOINT_M = 0.05;

/** Ends of falls no farther apart than this, or from a level, are one place of one height, metres. */
export const FALL_TOLERANCE_M = 0.02;

/** Pipes of two valve zones never join, even where they lie in one trench; an unknown zone joins any. */
export function zonesAgree(a: string | null, b: string | null): boolean {
  return a === null || b === null || a === b;
}
