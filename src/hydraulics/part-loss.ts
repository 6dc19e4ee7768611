import { evaluateCurve, type ReadyCurve } from './curve.ts';
import { lacksCurve } from './examine.ts';
import { STATE, type Workspace } from './workspace.ts';

/** Slope of the loss of a link without stated loss, s/m2: a thousandth of a millimetre at 1 L/s. */
export const OPEN_SLOPE = 1e-3;
/** Conductance of a closed link, m2/s: it keeps the equations whole. Reported as no flow. */
export const CLOSED_CONDUCTANCE = 1e-18;

const out = new Float64Array(2);

/** The loss curve that the part at a link position can have; null for none. */
function curveOf(w: Workspace, p: number): ReadyCurve | null {
  const l = w.ordering.linkAt[p]!;
  if (lacksCurve(w.network, w.examined.curves, l)) return null;
  return w.examined.curves[w.network.links.curve[l]!] ?? null;
}

/** Head that it takes to open a check valve, m. */
export function openingHead(w: Workspace, p: number): number {
  return curveOf(w, p)?.openingM ?? 0;
}

/** Loss (m) and slope (s/m2) of an open link that is not a pipe, to `to[0]` and `to[1]`. */
function evaluatePart(w: Workspace, p: number, flowM3s: number, to: Float64Array): void {
  const curve = curveOf(w, p);
  if (curve) {
    evaluateCurve(curve, flowM3s, to);
    to[0]! += w.turned[p] === 1 ? -curve.openingM : curve.openingM;
  } else to.fill(0);
  to[0]! += OPEN_SLOPE * flowM3s;
  to[1]! += OPEN_SLOPE;
}

/** Head lost in an open or holding link at its present flow, from its owner to its other end, m. */
export function lossNow(w: Workspace, p: number): number {
  if (w.linkState[p] === STATE.pipe) w.sizes.lossAt(p, w.flow[p]!, out);
  else evaluatePart(w, p, w.flow[p]!, out);
  return out[0]!;
}

/** Loss and slope of a link in any state but `pipe` and `holding`, to `to[0]` and `to[1]`. */
export function lookAtPart(w: Workspace, p: number, flowM3s: number, to: Float64Array): void {
  if (w.linkState[p] === STATE.closed) {
    to[0] = flowM3s / CLOSED_CONDUCTANCE;
    to[1] = 1 / CLOSED_CONDUCTANCE;
    return;
  }
  evaluatePart(w, p, flowM3s, to);
}
