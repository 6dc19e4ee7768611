import { bad, good, type Result } from '../../base/result.ts';
import { outletLawById, tubingById } from '../../catalog/index.ts';
import type { RingChoices } from '../../plan/records.ts';

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
  for (const [key, [least, most]] of Object.entries(RING_BOUNDS) as [
    keyof typeof RING_BOUNDS,
    readonly [number, number],
  ][]) {
    const value = choices[key];
    if (value === null && key === 'ringSpacingM') continue;
    if (value === null || !(value >= least && value <= most))
      return bad(
        key,
        `The ${NAMES[key]} is ${String(value)}, not between ${least} and ${most}`,
        'Type it again.',
      );
  }
  const { law, tubing, headerTubing } = choices;
  if (outletLawById(law)?.use !== 'inline')
    return bad('law', `“${law}” is no built-in emitter of the catalog`, 'Choose one.');
  if (tubingById(tubing)?.use !== 'inline')
    return bad('tubing', `“${tubing}” is no dripline of the catalog`, 'Choose one.');
  if (tubingById(headerTubing)?.use !== 'blank')
    return bad('headerTubing', `“${headerTubing}” is no blank tubing of the catalog`, 'Choose one.');
  return good(choices);
}
