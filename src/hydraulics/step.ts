import { factor, substitute } from './factor.ts';
import { HEAD, STATE, type Workspace } from './workspace.ts';

/** A regulator's flow that comes back to its inlet but for this share has no bounds. */
const LEAST_PIVOT = 1e-9;

/**
 * Newton's step from equations set up by `evaluate`: fills `headStep`, and `flowStep` of holding regulators; gives the
 * largest change of a head, m. The flows of other links follow from the heads when `evaluate` moves them.
 *
 * A regulator that holds its outlet ties the flow that it draws from its inlet to what lies below it. That is one
 * more unknown for each, found exactly: the step is the sum of the step without these flows and of the answers to
 * drawing 1 m3/s at each inlet, in the proportions that balance the outlets. Infinity when there is no such step: water
 * would run round through a regulator and a way back without loss.
 */
export function findStep(w: Workspace): number {
  const { ordering, mutual, ground, pivotInverse, rightSide, headStep, flowStep, headState } = w;
  const { from, to } = w.network.links;
  const holding = w.valves.filter((l) => w.linkState[l] === STATE.holding);
  const own = holding.map((l) => -rightSide[to[l]!]!);
  for (const l of holding) {
    // The head at the outlet of a holding regulator does not move.
    ground[to[l]!] = 1;
    rightSide[to[l]!] = 0;
  }
  factor(ordering, mutual, ground, pivotInverse);
  substitute(ordering, mutual, ground, pivotInverse, rightSide, headStep);

  if (holding.length > 0) {
    const answers = holding.map((l) => {
      const i = from[l]!;
      const answer = new Float64Array(headStep.length);
      if (headState[i] !== HEAD.free) return answer;
      rightSide.fill(0);
      rightSide[i] = 1;
      substitute(ordering, mutual, ground, pivotInverse, rightSide, answer);
      return answer;
    });
    const draws = solveDense(
      holding.map((l, r) => {
        const row = holding.map((s, c) => {
          const direct = from[s] === to[l] ? 1 : 0;
          return (c === r ? 1 : 0) - direct - inflowFor(w, to[l]!, answers[c]!);
        });
        return [...row, own[r]! - inflowFor(w, to[l]!, headStep)];
      }),
    );
    if (!draws) return Infinity;
    holding.forEach((l, r) => {
      const draw = draws[r]!;
      flowStep[l] = draw;
      const answer = answers[r]!;
      if (draw !== 0) for (let v = 0; v < headStep.length; v++) headStep[v]! -= draw * answer[v]!;
    });
  }

  return largestHeadStep(w);
}

function largestHeadStep(w: Workspace): number {
  const { headStep } = w;
  const { sequence } = w.ordering;
  let largest = 0;
  for (let k = 0; k < sequence.length; k++) {
    const size = Math.abs(headStep[sequence[k]!]!);
    if (size > largest) largest = size;
  }
  return largest;
}

/** How much more flows into node `j` through its links when the heads change by `change`, m3/s. */
function inflowFor(w: Workspace, j: number, change: Float64Array): number {
  const { start, incident } = w.graph;
  const { from, to } = w.network.links;
  let sum = 0;
  for (let p = start[j]!; p < start[j + 1]!; p++) {
    const l = incident[p]!;
    if (w.linkState[l] === STATE.holding || w.linkState[l] === STATE.out) continue;
    const k = from[l] === j ? to[l]! : from[l]!;
    sum += w.conductance[l]! * (change[k]! - change[j]!);
  }
  return sum;
}

/** Moves the heads by a share of the step. */
export function moveHeads({ head, headStep, ordering: { sequence } }: Workspace, share: number): void {
  for (let k = 0; k < sequence.length; k++) {
    const v = sequence[k]!;
    head[v]! += share * headStep[v]!;
  }
}

/** Moves the flows by a share of the step; `evaluate` does so for the whole step by itself. */
export function moveFlows({ flow, flowStep, linkState }: Workspace, share: number): void {
  for (let l = 0; l < flow.length; l++) if (linkState[l] !== STATE.out) flow[l]! += share * flowStep[l]!;
}

/** Solves a small full system; each row ends in its right side. Undefined when it has no answer, or nearly none. */
function solveDense(rows: number[][]): number[] | undefined {
  const n = rows.length;
  for (let c = 0; c < n; c++) {
    let best = c;
    for (let r = c + 1; r < n; r++) if (Math.abs(rows[r]![c]!) > Math.abs(rows[best]![c]!)) best = r;
    const pivotRow = rows[best]!;
    rows[best] = rows[c]!;
    rows[c] = pivotRow;
    const pivot = pivotRow[c]!;
    if (Math.abs(pivot) < LEAST_PIVOT) return undefined;
    for (let r = c + 1; r < n; r++) {
      const row = rows[r]!;
      const share = row[c]! / pivot;
      if (share === 0) continue;
      for (let k = c; k <= n; k++) row[k]! -= share * pivotRow[k]!;
    }
  }
  const x = new Array<number>(n).fill(0);
  for (let r = n - 1; r >= 0; r--) {
    const row = rows[r]!;
    let sum = row[n]!;
    for (let k = r + 1; k < n; k++) sum -= row[k]! * x[k]!;
    x[r] = sum / row[r]!;
  }
  return x;
}
