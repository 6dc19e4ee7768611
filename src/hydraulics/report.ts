import { LINK, type Finding, type Solution } from './network.ts';
import { largestImbalance } from './evaluate.ts';
import { findingsOfUnreached } from './graph.ts';
import { HEAD, STATE, type Workspace } from './workspace.ts';

/** Makes the answer from the last heads and flows and what was measured of them. */
export function report(
  w: Workspace,
  more: readonly Finding[],
  outcome: { readonly converged: boolean; readonly iterations: number },
): Solution {
  const { network, graph } = w;
  const headM = w.head.slice();
  const flowM3s = w.flow.slice();
  if (graph.order.length < headM.length) {
    for (let v = 0; v < headM.length; v++) if (w.headState[v] === HEAD.unreached) headM[v] = NaN;
  }
  for (const l of w.valves) if (w.linkState[l] === STATE.closed) flowM3s[l] = 0;
  return {
    headM,
    flowM3s,
    outletM3s: w.outletFlow.slice(),
    converged: outcome.converged,
    iterations: outcome.iterations,
    massErrorM3s: largestImbalance(w),
    energyErrorM: w.measure.missMaxM,
    findings: [
      ...w.examined.findings,
      ...findingsOfUnreached(graph, network.links, network.outlets.node),
      ...findingsOf(w, dryOutlets(w)),
      ...more,
    ],
  };
}

function dryOutlets({ head, outletFlow, outletLevel, network, measure }: Workspace): number[] {
  const { node } = network.outlets;
  const dry: number[] = [];
  if (measure.idleOutlets === 0) return dry;
  for (let k = 0; k < outletFlow.length; k++) {
    if (outletFlow[k] === 0 && head[node[k]!]! <= outletLevel[k]!) dry.push(k);
  }
  return dry;
}

function findingsOf(w: Workspace, dry: readonly number[]): Finding[] {
  const { kind, from, to } = w.network.links;
  const findings: Finding[] = [];
  const regulators = w.valves.filter((l) => kind[l] === LINK.regulator);
  const open = regulators.filter((l) => w.linkState[l] === STATE.open);
  if (open.length > 0) {
    findings.push({
      kind: 'regulator-open',
      nodes: [],
      links: open,
      outlets: [],
      message:
        'The pressure before a regulator is too low for its setting; it stands wide open and does not regulate.',
    });
  }
  const backward = (l: number) =>
    w.headState[from[l]!] === HEAD.unreached && w.headState[to[l]!] !== HEAD.unreached;
  const reversed = regulators.filter((l) => w.linkState[l] === STATE.closed || backward(l));
  if (reversed.length > 0) {
    findings.push({
      kind: 'regulator-reversed',
      nodes: [],
      links: reversed,
      outlets: [],
      message:
        'Water would pass a regulator backwards, so it is shut. Turn it round, or look for a second supply behind it.',
    });
  }
  if (dry.length > 0) {
    findings.push({
      kind: 'outlet-dry',
      nodes: [],
      links: [],
      outlets: dry,
      message:
        'An outlet has no pressure and gives no water: it lies too high, or too much is lost on the way.',
    });
  }
  return findings;
}
