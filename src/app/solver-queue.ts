import type { Problem } from '../base/result.ts';
import type { PlanNetwork } from '../derive/results.ts';
import type { Network, Solution } from '../hydraulics/network.ts';
import { WorkerLost } from './worker-link.ts';

/** One started solver: the worker in the app, a fake in tests. */
export interface Solver {
  /** Rejects with `WorkerLost` when the solver is gone, with any other error when it cannot solve this network. */
  solve(network: Network): Promise<Solution>;
  end(): void;
}

export interface SolverClient {
  /** Asks for the solution of a network; the newest request replaces one that still waits. */
  request(planNetwork: PlanNetwork): void;
  /** True while a network is being solved or waits. */
  readonly busy: boolean;
  /** Ends the worker; nothing is delivered afterwards. */
  close(): void;
}

export interface SolverEvents {
  /** Delivers an answer with exactly the network that it answers. */
  readonly onSolution: (planNetwork: PlanNetwork, solution: Solution) => void;
  readonly onProblem?: (problem: Problem) => void;
}

/**
 * One network is solved, at most one waits: while a pointer drags, only the newest state matters, and every
 * answer still belongs to one whole plan. A solver that is lost is started again once for the same network; if
 * that network brings it down again the network is given up and reported, and later requests start afresh.
 */
export function createSolverQueue(start: () => Solver, events: SolverEvents): SolverClient {
  let solver: Solver | null = null;
  let running: PlanNetwork | null = null;
  let waiting: PlanNetwork | null = null;
  let closed = false;

  async function attempt(planNetwork: PlanNetwork): Promise<Solution> {
    solver ??= start();
    return solver.solve(planNetwork.network);
  }

  async function solveWithOneRestart(planNetwork: PlanNetwork): Promise<Solution | null> {
    try {
      return await attempt(planNetwork);
    } catch (error) {
      if (!(error instanceof WorkerLost)) throw error;
      solver = null;
      if (closed) return null;
      const again = waiting === null;
      events.onProblem?.({
        where: 'pressure calculation',
        what: `The calculation stopped and was started again. ${error.message}`,
        todo: 'Nothing is lost; go on. Save the plan to a file if this comes back.',
      });
      // What waits is newer: it takes the place of the one that was lost.
      return again ? await attempt(planNetwork) : null;
    }
  }

  async function work(): Promise<void> {
    while (waiting !== null && !closed) {
      running = waiting;
      waiting = null;
      try {
        const solution = await solveWithOneRestart(running);
        // `close` may have been called while the worker was busy.
        if (solution !== null && !(closed as boolean)) events.onSolution(running, solution);
      } catch (error) {
        if (error instanceof WorkerLost) solver = null;
        if (!(closed as boolean)) events.onProblem?.(givenUp(error));
      }
    }
    running = null;
  }

  return {
    request(planNetwork) {
      if (closed) return;
      waiting = planNetwork;
      if (running === null) void work();
    },
    get busy() {
      return running !== null || waiting !== null;
    },
    close() {
      closed = true;
      waiting = null;
      solver?.end();
      solver = null;
    },
  };
}

function givenUp(error: unknown): Problem {
  return {
    where: 'pressure calculation',
    what: `The pressures of this plan could not be computed. ${error instanceof Error ? error.message : String(error)}`,
    todo: 'Undo the last change, or save the plan to a file and open it again. Pressures shown before no longer hold.',
  };
}
