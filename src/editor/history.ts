import { follow, type FollowNote } from '../layout/live/index.ts';
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

/** An edit that was kept, and the fills that no longer follow because of it. */
export interface Kept {
  readonly history: History;
  readonly notes: readonly FollowNote[];
}

/**
 * Applies an edit and lays anew the rows that follow from what it changed, as one step; an edit that changes nothing
 * leaves no step behind.
 */
export function kept(history: History, edit: Edit): Kept {
  const edited = edit.apply(history.plan);
  if (edited === history.plan) return { history, notes: [] };
  const { plan, notes } = follow(history.plan, edited);
  return { history: stepped(history, plan, edit.label), notes };
}

/** As `kept`, where nobody is to be told. */
export function committed(history: History, edit: Edit): History {
  return kept(history, edit).history;
}

/** Puts another plan in the place of the present one as a step; nothing is laid anew. */
export function stepped(history: History, plan: Plan, label: string): History {
  return { plan, past: [...history.past, { plan: history.plan, label }], future: [] };
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
