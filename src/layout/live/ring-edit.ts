import type { Edit } from '../../plan/edits/index.ts';
import type { Plan, RingChoices } from '../../plan/records.ts';
import { withFilled, withoutRuns } from '../rows/index.ts';
import { layFill, type LedFill } from './lay.ts';

/** A tree that is to be ringed. */
export interface RingedTree {
  readonly plantId: string;
  readonly choices: RingChoices;
  /** The control set that it is led from; the nearest where it is left out. */
  readonly leadFrom?: string | undefined;
}

/**
 * Puts rings round trees on the plan as one step, each with the record by which they follow their tree. Earlier rings of
 * these trees go first. They are laid on the plan to which the edit is applied, one after the other, so that the lead of
 * one may begin on that of another. Trees that cannot be ringed are left out.
 */
export function ringEdit(trees: readonly RingedTree[], lead: boolean): Edit {
  return {
    label: trees.length === 1 ? 'Rings round a tree' : 'Rings round trees',
    apply: (before) => trees.reduce((plan, tree) => ringed(plan, tree, lead), before),
  };
}

function ringed(plan: Plan, { plantId, choices, leadFrom }: RingedTree, lead: boolean): Plan {
  const earlier = [...plan.fills].filter((fill) => fill.kind === 'tree' && fill.plantId === plantId);
  const ids = new Set(earlier.flatMap(({ runIds }) => runIds));
  const place = {
    kind: 'tree',
    plantId,
    choices,
    ...(leadFrom !== undefined && { leadFrom }),
  } as const;
  const cleared = withoutRuns(
    plan,
    [...plan.runs].filter(({ id }) => ids.has(id)),
    earlier,
  );
  const laid = layFill(cleared, place, { lead });
  if (!laid.ok) return plan;
  const filled: LedFill = laid.value;
  return withFilled(plan, cleared, filled, place, lead ? filled.leads.runs.length : null);
}
