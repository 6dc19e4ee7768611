import { LINK, type Finding, type Solution } from './network.ts';
import { findingsOfUnreached } from './graph.ts';
import { STATE, type Workspace } from './workspace.ts';

/** Makes the answer from the last heads and flows and what was measured of them. */
export function report(
  w: Workspace,
  more: readonly Finding[],
  outcome: { readonly converged: boolean; readonly iterations: number },
): Solution {
  const { network, graph } = w;
  return {
    headM: headsOf(w),
    flowM3s: flowsOf(w),
    outletM3s: outflowsOf(w),
    converged: outcome.converged,
    iterations: outcome.iterations,
    massErrorM3s: w.measure.imbalanceMaxM3s,
    energyErrorM: w.measure.missMaxM,
    findings: [
      ...w.examined.findings,
      ...findingsOfUnreached(graph, network.links, network.outlets.node),
      ...findingsOf(w, dryOutlets(w)),
      ...more,
    ],
  };
}

function headsOf({ network, ordering: { sequence }, head }: Workspace): Float64Array {
  const headM = new Float64Array(network.nodes.count);
  if (sequence.length < headM.length) headM.fill(NaN);
  for (let k = 0; k < sequence.length; k++) headM[sequence[k]!] = head[k]!;
  return headM;
}

function flowsOf(w: Workspace): Float64Array {
  const { linkAt } = w.ordering;
  const { flow, turned } = w;
  const flowM3s = new Float64Array(w.network.links.count);
  // A zero stays a positive one.
  for (let p = 0; p < linkAt.length; p++) flowM3s[linkAt[p]!] = turned[p] === 1 ? 0 - flow[p]! : flow[p]! + 0;
  for (const p of w.valves) if (w.linkState[p] === STATE.closed) flowM3s[linkAt[p]!] = 0;
  return flowM3s;
}

function outflowsOf({ network, outletTable, ordering }: Workspace): Float64Array {
  const { outletAt, outletFlow, outletStart } = outletTable;
  const outletM3s = new Float64Array(network.outlets.count);
  const count = outletStart[ordering.sequence.length]!;
  for (let j = 0; j < count; j++) outletM3s[outletAt[j]!] = outletFlow[j]!;
  return outletM3s;
}

/** Outlets that give nothing for want of pressure, in the order of the network. */
function dryOutlets({ head, outletTable, ordering, network, measure }: Workspace): number[] {
  const { outletAt, outletFlow, outletStart, outletLevel } = outletTable;
  const { closingM, openShare } = network.outlets;
  const dry: number[] = [];
  if (measure.idleOutlets === 0) return dry;
  for (let k = 0; k < ordering.sequence.length; k++) {
    for (let j = outletStart[k]!; j < outletStart[k + 1]!; j++) {
      const i = outletAt[j]!;
      if (outletFlow[j] !== 0 || openShare?.[i] === 0) continue;
      const closing = closingM?.[i] ?? NaN;
      if (head[k]! - outletLevel[j]! <= (closing > 0 ? closing : 0)) dry.push(i);
    }
  }
  return dry.sort((a, b) => a - b);
}

function findingsOf(w: Workspace, dry: readonly number[]): Finding[] {
  const { linkAt } = w.ordering;
  const { kind } = w.network.links;
  const findings: Finding[] = [];
  const regulatorsIn = (state: number) =>
    w.valves
      .filter((p) => kind[linkAt[p]!] === LINK.regulator && w.linkState[p] === state)
      .map((p) => linkAt[p]!);
  const open = regulatorsIn(STATE.open);
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
  const reversed = [...regulatorsIn(STATE.closed), ...w.backward].sort((a, b) => a - b);
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
        'An outlet has no pressure, or less than its check needs to open, and gives no water: it lies too high, or too ' +
        'much is lost on the way.',
    });
  }
  return findings;
}
