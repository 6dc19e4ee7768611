import { evaluateLinks } from './links.ts';
import { evaluateOutlet } from './outlet.ts';
import { ROUNDING_M, walkFree } from './walk.ts';
import { STATE, type Workspace } from './workspace.ts';

const out = new Float64Array(2);

/**
 * Measures the present heads and flows, sets up the linear equations of Newton's step from them and eliminates: the
 * global gradient method of Todini and Pilati (1988), written for changes of heads and flows, with the outlets as
 * flows that follow the head of their node.
 * @param move also moves the flows by the whole step that `findStep` has found; heads have been moved by then.
 */
export function evaluate(w: Workspace, move: boolean): void {
  if (move) w.flowBefore.set(w.flow);
  evaluateLinks(w, move);
  evaluateNodes(w);
}

/** The same where the losses of the links stand already. */
export function evaluateNodes(w: Workspace): void {
  w.mutual.fill(0);
  w.ground.fill(0);
  w.rightSide.fill(0);
  w.imbalance.fill(0);
  const { measure } = w;
  measure.missSumM = 0;
  measure.missMaxM = 0;
  measure.missFlowM3s = 0;
  measure.imbalanceSumM3s = 0;
  measure.imbalanceMaxM3s = 0;
  measure.outflowM3s = 0;
  measure.idleOutlets = 0;
  walkFree(w);
  walkHeld(w);
  w.holds.eliminated = true;
}

/** Outlets at held nodes, and links between them: they touch no equation. */
function walkHeld(w: Workspace): void {
  const { head, conductance, miss, linkState, owner, other, measure } = w;
  const { outletStart, outletLevel, outletAt, outletFlow } = w.outletTable;
  const { sequence, linkStart, linkAt, free } = w.ordering;
  for (let k = free; k < sequence.length; k++) {
    for (let j = outletStart[k]!; j < outletStart[k + 1]!; j++) {
      evaluateOutlet(w.network.outlets, outletAt[j]!, head[k]! - outletLevel[j]!, out);
      outletFlow[j] = out[0]!;
      measure.outflowM3s += out[0]!;
      if (out[0] === 0) measure.idleOutlets++;
    }
  }
  for (let p = linkStart[free]!; p < linkAt.length; p++) {
    const gap = head[owner[p]!]! - head[other[p]!]! - miss[p]!;
    miss[p] = gap;
    if (linkState[p] === STATE.closed) continue;
    const size = Math.abs(gap);
    measure.missSumM += size;
    measure.missMaxM = Math.max(measure.missMaxM, size);
    measure.missFlowM3s = Math.max(measure.missFlowM3s, conductance[p]! * (size - ROUNDING_M));
  }
}

/** Conductance and missing head of pipe `p` anew after a change of its size; gives how much both have changed the equations. */
export function evaluateAgain(w: Workspace, p: number): { readonly more: number; readonly push: number } {
  const { measure, conductance, miss } = w;
  w.sizes.lossAt(p, w.flow[p]!, out);
  const c = 1 / out[1]!;
  const gap = w.head[w.owner[p]!]! - w.head[w.other[p]!]! - out[0]!;
  const change = { more: c - conductance[p]!, push: c * gap - conductance[p]! * miss[p]! };
  conductance[p] = c;
  miss[p] = gap;
  const size = Math.abs(gap);
  measure.missSumM += size;
  measure.missMaxM = Math.max(measure.missMaxM, size);
  measure.missFlowM3s = Math.max(measure.missFlowM3s, c * (size - ROUNDING_M));
  return change;
}
