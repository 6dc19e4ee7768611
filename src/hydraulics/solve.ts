import type { Finding, Network, Solution } from './network.ts';
import { evaluate } from './evaluate.ts';
import { findStep, halveFlows, moveHeads } from './step.ts';
import { prepare, type Workspace } from './workspace.ts';
import { resume } from './resume.ts';
import { startCold, startWarm } from './start.ts';
import { adjustValves, releaseOne } from './valves.ts';
import { report } from './report.ts';

/** The answer is good when no head would change by more than this in a further step, m. */
const HEAD_TOLERANCE_M = 1e-7;
/** ... and nodes gain or lose together no more than this share of what flows out. */
const IMBALANCE_SHARE = 1e-9;
/** ... and no flow would change by more than this share of what flows out. */
const FLOW_SHARE = 1e-6;
/** Outflow below which the share is taken of this, m3/s (about 0.04 L/h). */
const LEAST_OUTFLOW_M3S = 1e-8;
/** Valves are looked at when heads change by less than this, m. */
const SETTLED_M = 1e-2;
const MOST_ITERATIONS = 100;
/** Weighed by the largest outflow the steps are surer and smaller, so they may be more. */
const MOST_CAREFUL_ITERATIONS = 800;
/** No regulator that can hold makes pressures change by this much, m. */
const WILD_M = 1e6;
const MOST_HALVINGS = 10;
const MOST_FLIPS = 10;
/** Times that several valves may change at once. */
const JOINT_ROUNDS = 4;
/** Head that stands for the loss of all flow when imbalance and missing head are weighed together, m. */
const WEIGHING_HEAD_M = 10;

interface Outcome {
  readonly converged: boolean;
  readonly iterations: number;
  /** Valves that would still change their state, by position. */
  readonly restless: readonly number[];
}

/** Workspaces of answers that may serve as a start; they go with the answer. */
const workspaces = new WeakMap<Solution, Workspace>();

/**
 * Heads, flows and outflows of a network in steady state.
 *
 * Never throws for bad values: these are named in `findings` and left out, parts without a source get NaN heads and no
 * flow, and the rest is solved. An answer that did not settle has `converged: false` and says so.
 *
 * The arrays of a network must not be changed once it has been solved: an answer that serves as a start compares with
 * them.
 *
 * @param start an earlier answer to begin from, used when it has as many nodes and links. With the same connections
 * the order of elimination is taken over as well, so a change of sizes or pressures costs a few passes only.
 */
export function solve(network: Network, start: Solution | null = null): Solution {
  const warm =
    start !== null &&
    start.headM.length === network.nodes.count &&
    start.flowM3s.length === network.links.count;
  const previous = warm ? workspaces.get(start) : undefined;
  const resumed = previous !== undefined && resume(previous, start!, network);
  const w = resumed ? previous : prepare(network, previous);
  w.holds.solution = null;
  if (warm && !resumed) startWarm(w, start);
  else if (!resumed) startCold(w);
  let outcome = iterate(w);
  if (!outcome.converged && warm) {
    startCold(w);
    outcome = iterate(w);
  }
  if (!outcome.converged && outcome.restless.length === 0) {
    // A weak supply can run all outlets dry in one pass; weighed by that pass's outflow the next one may do anything.
    startCold(w);
    outcome = iterate(w, 'largest');
  }
  const findings: Finding[] = [];
  if (!outcome.converged) {
    findings.push({
      kind: 'not-converged',
      nodes: [],
      links: outcome.restless.map((p) => w.ordering.linkAt[p]!),
      outlets: [],
      message:
        outcome.restless.length > 0
          ? 'A regulator or check valve finds no state that fits the pressures around it. Look for two regulators in ' +
            'line, or one that works against another supply.'
          : 'The pressures did not settle; the figures are the last found. Look for extreme sizes or losses.',
    });
  }
  const solution = report(w, findings, outcome);
  workspaces.set(solution, w);
  if (outcome.converged) w.holds.solution = solution;
  return solution;
}

/**
 * From equations that stand to the answer. Imbalances are weighed against the outflow of the present pass, or against
 * the largest that any pass had.
 */
function iterate(w: Workspace, weighing: 'present' | 'largest' = 'present'): Outcome {
  const { measure } = w;
  const flipsLeft = new Map(w.valves.map((p) => [p, MOST_FLIPS]));
  let change = Infinity;
  let rounds = 0;
  let largestM3s = LEAST_OUTFLOW_M3S;
  const most = weighing === 'largest' ? MOST_CAREFUL_ITERATIONS : MOST_ITERATIONS;
  for (let iteration = 0; ;) {
    const outflow = Math.max(measure.outflowM3s, LEAST_OUTFLOW_M3S);
    const balanced =
      measure.imbalanceSumM3s <= IMBALANCE_SHARE * outflow && measure.missFlowM3s <= FLOW_SHARE * outflow;
    // In a network of conductances no head answers to a missing head along a link with more than that head, so the sum
    // of what is missing bounds the next step: a further one need not be made to know that it would be small.
    const still =
      balanced &&
      (measure.missSumM <= HEAD_TOLERANCE_M ||
        (change <= HEAD_TOLERANCE_M && measure.missMaxM <= HEAD_TOLERANCE_M));
    if (
      w.valves.length > 0 &&
      (still || change < SETTLED_M) &&
      adjustValves(w, flipsLeft, rounds >= JOINT_ROUNDS) > 0
    ) {
      rounds++;
      evaluate(w, false);
      change = Infinity;
      continue;
    }
    if (still) {
      const restless = w.valves.filter((p) => flipsLeft.get(p)! <= 0);
      return { converged: restless.length === 0, iterations: iteration, restless };
    }
    if (iteration >= most) return { converged: false, iterations: iteration, restless: [] };

    largestM3s = Math.max(largestM3s, outflow);
    const weight = WEIGHING_HEAD_M / (weighing === 'largest' ? largestM3s : outflow);
    const merit = measure.missMaxM + weight * measure.imbalanceSumM3s;
    change = findStep(w);
    iteration++;
    if (change > WILD_M && releaseOne(w, flipsLeft)) {
      evaluate(w, false);
      continue;
    }
    if (change === Infinity) return { converged: false, iterations: iteration, restless: [] };
    let share = 1;
    moveHeads(w, share);
    evaluate(w, true);
    for (let halving = 0; halving < MOST_HALVINGS; halving++) {
      if (measure.missMaxM + weight * measure.imbalanceSumM3s <= merit) break;
      share /= 2;
      moveHeads(w, -share);
      halveFlows(w);
      evaluate(w, false);
    }
    if (share < 1) change = Math.max(change, SETTLED_M);
  }
}
