import { good, type Result } from '../../base/result.ts';
import type { RingChoices } from '../../plan/records.ts';
import { notInCatalog, outOfBounds } from '../rows/choices.ts';

export type { RingChoices } from '../../plan/records.ts';

/** Bounds of what may be chosen, metres and L/h. */
export const RING_BOUNDS = {
  ringSpacingM: [0.15, 5],
  trunkClearM: [0, 5],
  emitterSpacingM: [0.05, 3],
  ratedFlowLph: [0.1, 50],
} as const;

const NAMES: Readonly<Record<keyof typeof RING_BOUNDS, string>> = {
  ringSpacingM: 'distance between rings',
  trunkClearM: 'distance from the stem',
  emitterSpacingM: 'emitter spacing',
  ratedFlowLph: 'rated flow',
};

/** The choices, or the first of them that cannot be used. */
export function examinedRings(choices: RingChoices): Result<RingChoices> {
  // Not chosen means thirds of the canopy, which are always good.
  const asked = { ...choices, ringSpacingM: choices.ringSpacingM ?? RING_BOUNDS.ringSpacingM[0] };
  const problem = outOfBounds(asked, RING_BOUNDS, NAMES) ?? notInCatalog(choices);
  return problem ? { ok: false, problem } : good(choices);
}
