import { Table } from '../../base/table.ts';
import { control, supply } from '../../derive/plan-for-tests.ts';
import type { Area, Fill, FillChoices, Plan, Run } from '../../plan/records.ts';
import { fillEdit } from '../rows/index.ts';
import { area, bedPlan, CHOICES, rectangle } from '../rows/plan-for-fill-tests.ts';
import { layFill } from './lay.ts';

/** Short ways to write a plan with a bed that is filled, in tests. */

export const BED = area('A1', rectangle(0, 0, 8, 4), { name: 'Bank' });

export function filledPlan(
  plan: Plan = bedPlan([BED]),
  ask: Partial<FillChoices> = {},
  { lead = false, areaId = 'A1' } = {},
): Plan {
  const choices = { ...CHOICES, ...ask };
  const laid = layFill(plan, { kind: 'bed', areaId, choices }, { lead });
  if (!laid.ok) throw new Error(laid.problem.what);
  return fillEdit(plan, areaId, laid.value, { replace: true, choices, lead }).apply(plan);
}

/** A bed with a valve and a control set beside it, and rows that are led to. */
export function ledPlan(areas: readonly Area[] = [BED]): Plan {
  const plan: Plan = {
    ...bedPlan(areas),
    supplies: Table.of([supply('V1', [-3, -2])]),
    controls: Table.of([control('C1', [-3, -2])]),
  };
  return filledPlan(plan, {}, { lead: true });
}

export function theFill(plan: Plan): Fill {
  const [fill] = plan.fills;
  if (!fill) throw new Error('there is no fill');
  return fill;
}

export const runsOfFill = (plan: Plan, fill: Fill = theFill(plan)): readonly Run[] =>
  fill.runIds.map((id) => plan.runs.get(id)!);

/** The tubing of some runs, without what they are called. */
export const tubingOf = (runs: readonly Pick<Run, 'path' | 'tubing' | 'inline'>[]) =>
  runs.map(({ path, tubing, inline }) => ({ path, tubing, inline }));

/** What a fresh fill of the same place would be, with its leads where they may stay. */
export function freshly(plan: Plan, fill: Fill = theFill(plan)) {
  return layFill(plan, fill, {
    lead: fill.leadIds !== undefined,
    own: fill,
    keep: fill.leadIds?.map((id) => plan.runs.get(id)!) ?? [],
  });
}
