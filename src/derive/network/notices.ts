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

/** How a record is called in a sentence: its name, or its id where it has none. */
export function called(record: { readonly id: string; readonly name?: string }): string {
  return `"${record.name?.trim() || record.id}"`;
}
