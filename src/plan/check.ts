import * as v from 'valibot';
import type { Problem } from '../base/result.ts';
import { isObject } from './json.ts';
import type { FieldChecks } from './schema.ts';

/** Collects what a reader has to say; the reading goes on. */
export class Notices {
  readonly list: Problem[] = [];

  add(where: string, what: string, todo: string): void {
    this.list.push({ where, what, todo });
  }
}

/** `base` with the path of one issue behind it: `runs[2]` and `path, 0, 1` give `runs[2].path[0][1]`. */
function placeOf(base: string, issue: v.BaseIssue<unknown>): string {
  let place = base;
  for (const { key } of issue.path ?? []) place += typeof key === 'number' ? `[${key}]` : `.${String(key)}`;
  return place;
}

/** A value as a message shows it, short. */
export function shown(value: unknown): string {
  if (value === undefined) return 'missing';
  const text = JSON.stringify(value);
  return text.length > 40 ? `${text.slice(0, 37)}...` : text;
}

export type Checked<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly where: string; readonly what: string };

/** Checks one value; the failure names the place of the first fault inside of it. */
export function checked<T>(schema: v.GenericSchema<unknown, T>, value: unknown, where: string): Checked<T> {
  const result = v.safeParse(schema, value, { abortEarly: true });
  if (result.success) return { ok: true, value: result.output };
  const issue = result.issues[0];
  const wanted = issue.message.startsWith('must') ? issue.message : 'is not of the expected kind';
  const found = issue.input === undefined ? 'is missing' : `is ${shown(issue.input)}`;
  return { ok: false, where: placeOf(where, issue), what: `${found} but ${wanted}` };
}

/**
 * Reads an object field by field; a faulty or missing field keeps the value of `fallback` and is reported.
 * Fields without a check stay as in `fallback`.
 */
export function readFields<T extends object, F extends Partial<T>>(
  value: unknown,
  checks: FieldChecks<F>,
  fallback: T,
  where: string,
  notices: Notices,
): T {
  if (!isObject(value)) {
    notices.add(
      where,
      `is ${shown(value)} but must be an object`,
      'All of it counts as not measured: type it again.',
    );
    return fallback;
  }
  const read = Object.assign({}, fallback) as Record<string, unknown>;
  for (const [name, schema] of Object.entries<v.GenericSchema>(checks)) {
    const own = Object.hasOwn(value, name) ? value[name] : undefined;
    const result = checked(schema, own, `${where}.${name}`);
    if (result.ok) read[name] = result.value;
    else notices.add(result.where, result.what, 'The field was emptied: type it again.');
  }
  return read as T;
}
