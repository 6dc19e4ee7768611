import type { Edit } from '../plan/edits/index.ts';
import type { Plan } from '../plan/records.ts';

/** Plans before and after the present one; plans share all that an edit leaves alone, so there is no limit. */
export interface History {
  readonly plan: Plan;
  readonly past: readonly { readonly plan: Plan; readonly label: string }[];
  readonly future: readonly { readonly plan: Plan; readonly label: string }[];
}

export function startHistory(plan: Plan): History {
  return { plan, past: [], future: [] };
}

/** Applies an edit; one that changes nothing leaves no step behind. */
export function committed(history: History, edit: Edit): History {
  const plan = edit.apply(history.plan);
  if (plan === history.plan) return history;
  return { plan, past: [...history.past, { plan: history.plan, label: edit.label }], future: [] };
}

export function undone(history: History): History {
  const last = history.past.at(-1);
  if (!last) return history;
  return {
    plan: last.plan,
    past: history.past.slice(0, -1),
    future: [...history.future, { plan: history.plan, label: last.label }],
  };
}

export function redone(history: History): History {
  const next = history.future.at(-1);
  if (!next) return history;
  return {
    plan: next.plan,
    past: [...history.past, { plan: history.plan, label: next.label }],
    future: history.future.slice(0, -1),
  };
}
