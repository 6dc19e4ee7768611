import * as Comlink from 'comlink';
import { solve } from '../hydraulics/index.ts';
import type { Network, Solution } from '../hydraulics/network.ts';

/** The last answer: the next network differs little from the last one while a person draws. */
let last: Solution | null = null;

const api = {
  solve(network: Network): Solution {
    const solution = solve(network, last);
    last = solution.converged ? solution : null;
    return solution;
  },
};
export type SolverApi = typeof api;

Comlink.expose(api, self);
