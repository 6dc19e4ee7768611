import type { Problem } from '../base/result.ts';
import type { PlanNetwork } from '../derive/results.ts';
import type { Solution } from '../hydraulics/network.ts';
import { createSolverQueue } from './solver-queue.ts';
import type { SolverClient } from './solver-queue.ts';
import type { SolverApi } from './solver-worker.ts';
import { linkWorker } from './worker-link.ts';

export type { SolverClient } from './solver-queue.ts';

/** The largest networks take well under a second; half a minute of silence means that the worker is gone. */
const SILENCE_MS = 30_000;

/**
 * Starts the hydraulic solver in a worker (at the first request).
 *
 * `onSolution` gets each answer with the network that it answers; show it only while that network is the plan's.
 * `onProblem` hears of crashes and of networks that could not be solved.
 */
export function createSolverClient(
  onSolution: (planNetwork: PlanNetwork, solution: Solution) => void,
  onProblem?: (problem: Problem) => void,
): SolverClient {
  return createSolverQueue(
    () => {
      const link = linkWorker<SolverApi>(
        new Worker(new URL('./solver-worker.ts', import.meta.url), { type: 'module', name: 'solver' }),
      );
      return {
        solve: (network) => link.run((api) => api.solve(network), SILENCE_MS),
        end: () => link.end(),
      };
    },
    { onSolution, ...(onProblem ? { onProblem } : {}) },
  );
}
