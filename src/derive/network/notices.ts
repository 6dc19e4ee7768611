import type { Ref } from '../../plan/records.ts';
import type { Notice } from '../results.ts';

/** Gathers what the person should see while a network is built. */
export class Notices {
  private readonly list: Notice[] = [];

  add(rule: string, severity: Notice['severity'], message: string, ...refs: readonly Ref[]): void {
    this.list.push({ rule, severity, message, refs });
  }

  /** How many there are so far. */
  get count(): number {
    return this.list.length;
  }

  all(): readonly Notice[] {
    return this.list;
  }
}

/** The same behind the word for what it is, unless its own name begins with that word. */
export function calledAs(what: string, record: { readonly id: string; readonly name?: string }): string {
  const name = called(record);
  return name.slice(1).toLowerCase().startsWith(what.toLowerCase()) ? name : `${what} ${name}`;
}

/** How a record is called in a sentence: its name, or its id where it has none. */
export function called(record: { readonly id: string; readonly name?: string }): string {
  return `"${record.name?.trim() || record.id}"`;
}
