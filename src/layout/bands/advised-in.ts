import { polygonContains } from '../../base/polygon.ts';
import type { AdvisedPart } from '../../derive/slopes/advised.ts';
import type { Plan } from '../../plan/records.ts';

/** Of parts that are advised those of one bed: within its outline, or on the runs of its rows, their lead included. */
export function advisedIn(
  plan: Pick<Plan, 'areas' | 'fills'>,
  areaId: string,
  parts: readonly AdvisedPart[],
): readonly AdvisedPart[] {
  const bed = plan.areas.get(areaId);
  if (!bed) return [];
  const own = runsOfBed(plan, areaId);
  return parts.filter(({ runId, at }) => own.has(runId) || polygonContains(bed.outline, [], at));
}

/** Whether any tubing lies in a bed, or belongs to its rows. */
export function hasTubing(plan: Pick<Plan, 'areas' | 'fills' | 'runs'>, areaId: string): boolean {
  const bed = plan.areas.get(areaId);
  if (!bed) return false;
  for (const id of runsOfBed(plan, areaId)) if (plan.runs.has(id)) return true;
  return [...plan.runs].some(({ path }) => path.some((p) => polygonContains(bed.outline, [], p)));
}

/** Ids of the runs that were drawn for a bed, their lead included. */
export function runsOfBed({ fills }: Pick<Plan, 'fills'>, areaId: string): ReadonlySet<string> {
  return new Set(
    [...fills].flatMap((fill) => (fill.kind === 'bed' && fill.areaId === areaId ? fill.runIds : [])),
  );
}
