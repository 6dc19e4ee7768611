import type { RunResult } from '../results.ts';

/** Results of runs as columns. */
export interface RunColumns {
  readonly ids: readonly string[];
  /** `FIGURES` for each run, one run after the other. */
  readonly figures: Float64Array;
}

const FIGURES = [
  'lengthM',
  'outletCount',
  'flowLph',
  'inletKpa',
  'worstKpa',
  'highestKpa',
  'maxVelocityMs',
] as const satisfies readonly Exclude<keyof RunResult, 'runId'>[];

export function runColumns(runs: ReadonlyMap<string, RunResult>): RunColumns {
  const figures = new Float64Array(runs.size * FIGURES.length);
  let at = 0;
  for (const run of runs.values()) for (const name of FIGURES) figures[at++] = run[name];
  return { ids: [...runs.keys()], figures };
}

export function runsFrom({ ids, figures }: RunColumns): Map<string, RunResult> {
  return new Map(
    ids.map((runId, i) => {
      const at = i * FIGURES.length;
      const run: RunResult = {
        runId,
        lengthM: figures[at]!,
        outletCount: figures[at + 1]!,
        flowLph: figures[at + 2]!,
        inletKpa: figures[at + 3]!,
        worstKpa: figures[at + 4]!,
        highestKpa: figures[at + 5]!,
        maxVelocityMs: figures[at + 6]!,
      };
      return [runId, run] as const;
    }),
  );
}
