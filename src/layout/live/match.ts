import type { Plan, Run } from '../../plan/records.ts';
import type { NewRun } from '../rows/index.ts';

/** The old run that a new one takes the place of, and the name that it goes by. */
export interface Kept {
  readonly run: Run;
  readonly name: string;
}

/**
 * For each new run the old one whose id it keeps, `null` where there is none left. Dripline and blank tubing are told
 * apart; those of the same name belong together, the rest in order. A name that the person gave stays; one that was
 * given by counting gives way to the new count.
 */
export function matchedRuns(old: readonly Run[], fresh: readonly NewRun[]): readonly (Kept | null)[] {
  const matched: (Kept | null)[] = fresh.map(() => null);
  for (const isBlank of [false, true]) {
    const left = old.filter(({ inline }) => (inline === null) === isBlank);
    const places = fresh.flatMap(({ inline }, i) => ((inline === null) === isBlank ? [i] : []));
    const byName = new Map<string, Run[]>();
    for (const run of left) byName.set(run.name, [...(byName.get(run.name) ?? []), run]);
    const open: number[] = [];
    const taken = new Set<Run>();
    for (const i of places) {
      const run = byName.get(fresh[i]!.name)?.shift();
      if (run) {
        matched[i] = { run, name: run.name };
        taken.add(run);
      } else open.push(i);
    }
    const stems = new Set(places.map((i) => stemOf(fresh[i]!.name)));
    const rest = left.filter((run) => !taken.has(run));
    open.slice(0, rest.length).forEach((i, k) => {
      const run = rest[k]!;
      matched[i] = { run, name: stems.has(stemOf(run.name)) ? fresh[i]!.name : run.name };
    });
  }
  return matched;
}

/** A name without the number or letter that it was counted by. */
function stemOf(name: string): string {
  return name.replace(/[\s-]*\d+(?:-?\d+|[a-z])?$/, '').trim();
}

/**
 * New runs with what the names of the old ones have after them (`, Bank`), where they bear any; and where a run is to be
 * added whose name another run of the plan has, with a number.
 */
export function namedAlike(plan: Plan, old: readonly Run[], fresh: readonly NewRun[]): readonly NewRun[] {
  const ends = new Map<string, number>();
  for (const { name } of old) {
    const base = fresh.find((run) => name === run.name || name.startsWith(`${run.name},`));
    if (base) {
      const end = name.slice(base.name.length);
      ends.set(end, (ends.get(end) ?? 0) + 1);
    }
  }
  const [[end] = ['']] = [...ends].toSorted((a, b) => b[1] - a[1]);
  const called = fresh.map((run) => ({ ...run, name: run.name + end }));
  const own = new Set(old.map(({ name }) => name));
  const added = called.filter(({ name }) => !own.has(name));
  if (added.length === 0) return called;
  const ids = new Set(old.map(({ id }) => id));
  const taken = new Set([...plan.runs].flatMap(({ id, name }) => (ids.has(id) ? [] : [name])));
  if (!added.some(({ name }) => taken.has(name))) return called;
  for (let number = 2; ; number++) {
    const numbered = called.map((run) =>
      own.has(run.name) ? run : { ...run, name: `${run.name} ${number}` },
    );
    if (numbered.every(({ name }) => own.has(name) || !taken.has(name))) return numbered;
  }
}
