import type { Plan } from '../../plan/records.ts';
import type { NewRun } from './choices.ts';

/**
 * Runs under names that no other run of the plan bears: as they are where all are free, else with what they are for,
 * then with a number as well.
 * @param label what they are for: the bed's or plant's name, or its id
 * @param own ids of runs that they are to replace
 */
export function freshlyNamed(
  plan: Plan,
  runs: readonly NewRun[],
  label: string,
  own: ReadonlySet<string>,
): readonly NewRun[] {
  const taken = new Set([...plan.runs].flatMap(({ id, name }) => (own.has(id) ? [] : [name])));
  const called = (end: string): readonly NewRun[] => runs.map((run) => ({ ...run, name: run.name + end }));
  for (let k = 0; ; k++) {
    const named = called(k === 0 ? '' : k === 1 ? `, ${label}` : `, ${label} ${k}`);
    if (named.every(({ name }) => !taken.has(name))) return named;
  }
}
