import type { Plan } from '../records.ts';

/** The one way to change a plan: a pure function with a name that undo can show. It leaves the plan whole. */
export interface Edit {
  readonly label: string;
  apply(plan: Plan): Plan;
}

/** Several edits as one step of history. */
export function together(label: string, edits: readonly Edit[]): Edit {
  return { label, apply: (plan) => edits.reduce((current, edit) => edit.apply(current), plan) };
}
