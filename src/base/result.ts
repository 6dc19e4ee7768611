/** What went wrong, in words for a person: what, where, and what to do about it. */
export interface Problem {
  /** Place in the file, form or plan: a path such as `heads[3].radius`, a line number, a field name. */
  readonly where: string;
  readonly what: string;
  readonly todo: string;
}

export type Result<T> =
  { readonly ok: true; readonly value: T } | { readonly ok: false; readonly problem: Problem };

export function good<T>(value: T): Result<T> {
  return { ok: true, value };
}

export function bad(where: string, what: string, todo: string): Result<never> {
  return { ok: false, problem: { where, what, todo } };
}
