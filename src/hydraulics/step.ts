import { backward, forward } from './factor.ts';
import { downstream, HEAD, STATE, upstream, type Workspace } from './workspace.ts';

/** A regulator's flow that comes back to its inlet but for this share has no bounds. */
const LEAST_PIVOT = 1e-9;

/**
 * Newton's step from equations set up by `evaluate`: fills `headStep`, and for holding regulators the change of flow
 * in `miss`; gives the largest change of a head, m. The flows of other links follow from the heads when `evaluate` moves them.
 *
 * A regulator that holds its outlet ties the flow that it draws from its inlet to what lies below it. That is one
 * more unknown for each, found exactly: the step is the sum of the step without these flows and of the answers to
 * drawing 1 m3/s at each inlet, in the proportions that balance the outlets. Infinity when there is no such step: water
 * would run round through a regulator and a way back without loss.
 */
export function findStep(w: Workspace): number {
  const { headStep, headState, miss } = w;
  const largest = backward(w, w.rightSide, headStep);
  const holding = w.valves.filter((p) => w.linkState[p] === STATE.holding);
  if (holding.length === 0) return largest;

  const answers = holding.map((p) => {
    const i = upstream(w, p);
    const answer = new Float64Array(headStep.length);
    if (headState[i] !== HEAD.free) return answer;
    answer[i] = 1;
    forward(w, answer);
    backward(w, answer, answer);
    return answer;
  });
  const draws = solveDense(
    holding.map((p, r) => {
      const j = downstream(w, p);
      const row = holding.map((s, c) => {
        const direct = upstream(w, s) === j ? 1 : 0;
        return (c === r ? 1 : 0) - direct - inflowFor(w, j, answers[c]!);
      });
      return [...row, -w.imbalance[j]! - inflowFor(w, j, headStep)];
    }),
  );
  if (!draws) return Infinity;
  holding.forEach((p, r) => {
    const draw = draws[r]!;
    miss[p] = w.turned[p] === 1 ? -draw : draw;
    const answer = answers[r]!;
    if (draw !== 0) for (let k = 0; k < headStep.length; k++) headStep[k]! -= draw * answer[k]!;
  });
  return largestHeadStep(w);
}

function largestHeadStep({ headStep, ordering: { free } }: Workspace): number {
  let largest = 0;
  for (let k = 0; k < free; k++) {
    const size = Math.abs(headStep[k]!);
    if (size > largest) largest = size;
  }
  return largest;
}

/** How much more flows into position `j` through its links when the heads change by `change`, m3/s. */
function inflowFor(w: Workspace, j: number, change: Float64Array): number {
  const { start, incident } = w.graph;
  const { owner, other, linkPosition } = w;
  const v = w.ordering.sequence[j]!;
  let sum = 0;
  for (let i = start[v]!; i < start[v + 1]!; i++) {
    const p = linkPosition[incident[i]!]!;
    if (p < 0 || w.linkState[p] === STATE.holding) continue;
    const k = owner[p] === j ? other[p]! : owner[p]!;
    sum += w.conductance[p]! * (change[k]! - change[j]!);
  }
  return sum;
}

/** Moves the heads by a share of the step. */
export function moveHeads({ head, headStep, ordering: { free } }: Workspace, share: number): void {
  for (let k = 0; k < free; k++) head[k]! += share * headStep[k]!;
}

/** Takes back half of what the flows have moved since `evaluate` moved them by the whole step. */
export function halveFlows({ flow, flowBefore }: Workspace): void {
  for (let p = 0; p < flow.length; p++) flow[p] = 0.5 * (flow[p]! + flowBefore[p]!);
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
