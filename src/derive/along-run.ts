import { checkValvePlace } from '../plan/on-run.ts';
import type { CheckValve, Plan } from '../plan/records.ts';
import { groundOf } from './ground/index.ts';

/** Distance of a part on a run from the run's start, along the ground as tubing is laid, metres; `null` without a run. */
export function alongRunM(
  plan: Pick<Plan, 'runs' | 'levels' | 'falls'>,
  { runId, at }: Pick<CheckValve, 'runId' | 'at'>,
): number | null {
  const run = plan.runs.get(runId);
  const place = run && checkValvePlace(run, { at });
  if (!place) return null;
  return groundOf(plan).surfaceLength([...run.path.slice(0, place.segment + 1), place.point]);
}
