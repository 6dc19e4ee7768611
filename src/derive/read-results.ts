import { headToKpa, m3sToLph, type Solution } from '../hydraulics/index.ts';
import type { Ref } from '../plan/records.ts';
import type {
  Notice,
  OutletResult,
  OutletState,
  PlacedOutlet,
  PlanNetwork,
  Results,
  RunResult,
} from './results.ts';
import { isAbove, isBelow } from './wording.ts';
import { uniformityOf, variedUniformity } from './uniformity.ts';
import { suppliesOf, zonesOf } from './zones.ts';

/** What a solution says of the plan that its network was built from. Outlets are in the network's order. */
export function readResults(planNetwork: PlanNetwork, solution: Solution): Results {
  const { network } = planNetwork;
  const outlets = planNetwork.outlets.map((placed, i): OutletResult => {
    const node = network.outlets.node[i]!;
    const headM = solution.headM[node]! - network.nodes.elevationM[node]! - network.outlets.riseM[i]!;
    const pressureKpa = headToKpa(headM);
    // Written out: copying by spread is ten times slower, and there may be thousands.
    return {
      owner: placed.owner,
      runId: placed.runId,
      number: placed.number,
      at: placed.at,
      zM: placed.zM,
      plantId: placed.plantId,
      ratedFlowLph: placed.ratedFlowLph,
      minKpa: placed.minKpa,
      maxKpa: placed.maxKpa,
      compensating: placed.compensating,
      cv: placed.cv,
      closingKpa: placed.closingKpa,
      tap: placed.tap,
      feederM: placed.feederM,
      pressureKpa,
      flowLph: m3sToLph(solution.outletM3s[i]!),
      state: stateOf(placed, pressureKpa),
    };
  });
  const reached = outlets.filter((outlet) => outlet.state !== 'apart');
  const totalFlowLph = reached.reduce((sum, outlet) => sum + outlet.flowLph, 0);
  return {
    outlets,
    runs: runResults(planNetwork, solution, outlets),
    zones: zonesOf(planNetwork, solution),
    totalFlowLph,
    outletCount: outlets.length,
    lowestKpa: least(reached.map((outlet) => outlet.pressureKpa)),
    highestKpa: most(reached.map((outlet) => outlet.pressureKpa)),
    meanFlowLph: reached.length > 0 ? totalFlowLph / reached.length : NaN,
    uniformity: uniformityOf(outlets),
    counts: countsOf(outlets),
    lowestOutlet: extreme(outlets, (kpa, best) => kpa < best),
    highestOutlet: extreme(outlets, (kpa, best) => kpa > best),
    ...variedUniformity(outlets),
    supplies: suppliesOf(planNetwork, solution),
    notices: [...planNetwork.notices, ...solverNotices(planNetwork, solution)],
    solution,
  };
}

function stateOf({ minKpa, maxKpa }: PlacedOutlet, pressureKpa: number): OutletState {
  if (Number.isNaN(pressureKpa)) return 'apart';
  if (pressureKpa <= 0) return 'dry';
  if (isBelow(pressureKpa, minKpa)) return 'low';
  return isAbove(pressureKpa, maxKpa) ? 'high' : 'good';
}

function countsOf(outlets: readonly OutletResult[]): Record<OutletState, number> {
  const counts: Record<OutletState, number> = { good: 0, low: 0, high: 0, dry: 0, apart: 0 };
  for (const { state } of outlets) counts[state] += 1;
  return counts;
}

/** Index of the outlet whose pressure is beyond all others; null where no outlet has one. */
function extreme(
  outlets: readonly OutletResult[],
  isBeyond: (kpa: number, best: number) => boolean,
): number | null {
  let best: number | null = null;
  outlets.forEach(({ pressureKpa }, i) => {
    if (Number.isNaN(pressureKpa)) return;
    if (best === null || isBeyond(pressureKpa, outlets[best]!.pressureKpa)) best = i;
  });
  return best;
}

interface OwnFigures {
  count: number;
  flowLph: number;
  velocityMs: number;
  lowestKpa: number;
  highestKpa: number;
}

function runResults(
  { network, pieces, runNodes, parts }: PlanNetwork,
  { headM, flowM3s }: Solution,
  outlets: readonly OutletResult[],
): Map<string, RunResult> {
  const own = new Map<string, OwnFigures>();
  for (const id of runNodes.keys()) {
    own.set(id, { count: 0, flowLph: 0, velocityMs: 0, lowestKpa: Infinity, highestKpa: -Infinity });
  }
  for (const outlet of outlets) {
    const run = own.get(outlet.runId);
    if (!run) continue;
    run.count += 1;
    run.flowLph += outlet.flowLph;
    if (outlet.pressureKpa < run.lowestKpa) run.lowestKpa = outlet.pressureKpa;
    if (outlet.pressureKpa > run.highestKpa) run.highestKpa = outlet.pressureKpa;
  }
  pieces.forEach(({ owner }, link) => {
    const run = owner.table === 'runs' ? own.get(owner.id) : undefined;
    if (!run) return;
    const velocityMs = Math.abs(flowM3s[link]!) / ((Math.PI / 4) * network.links.boreM[link]! ** 2);
    if (velocityMs > run.velocityMs) run.velocityMs = velocityMs;
  });
  const results = new Map<string, RunResult>();
  for (const [runId, nodes] of runNodes) {
    let inlet = nodes[0]!;
    // Outlets behind feeders lie on no node of the run itself.
    let { lowestKpa: worstKpa, highestKpa } = own.get(runId)!;
    for (const node of nodes) {
      // Total head only falls along the flow, so water enters where it is highest.
      if (headM[node]! > headM[inlet]! + 1e-9) inlet = node;
      const pressureKpa = headToKpa(headM[node]! - network.nodes.elevationM[node]!);
      if (pressureKpa < worstKpa) worstKpa = pressureKpa;
      if (pressureKpa > highestKpa) highestKpa = pressureKpa;
    }
    const { count, flowLph, velocityMs } = own.get(runId)!;
    results.set(runId, {
      runId,
      lengthM: parts.runLengthM.get(runId) ?? 0,
      outletCount: count,
      flowLph,
      inletKpa: headToKpa(headM[inlet]! - network.nodes.elevationM[inlet]!),
      worstKpa: worstKpa === Infinity ? NaN : worstKpa,
      highestKpa: highestKpa === -Infinity ? NaN : highestKpa,
      maxVelocityMs: velocityMs,
    });
  }
  return results;
}

function least(values: readonly number[]): number {
  return values.length > 0 ? values.reduce((a, b) => Math.min(a, b)) : NaN;
}
function most(values: readonly number[]): number {
  return values.length > 0 ? values.reduce((a, b) => Math.max(a, b)) : NaN;
}

/** Findings of the solver that no check on the plan covers. */
function solverNotices({ network, pieces, outlets }: PlanNetwork, { findings }: Solution): Notice[] {
  const told: readonly string[] = ['not-converged', 'bad-value', 'regulator-reversed'];
  return findings
    .filter((finding) => told.includes(finding.kind))
    .map((finding): Notice => {
      const refs = new Map<string, Ref>();
      const add = (ref: Ref | undefined): void => {
        if (ref) refs.set(`${ref.table}/${ref.id}`, ref);
      };
      finding.links.forEach((link) => add(pieces[link]?.owner));
      finding.outlets.forEach((outlet) => add(outlets[outlet]?.owner));
      const wrongNodes = new Set(finding.nodes);
      if (wrongNodes.size > 0) {
        for (let link = 0; link < network.links.count; link++) {
          const ends = [network.links.from[link]!, network.links.to[link]!];
          if (ends.some((node) => wrongNodes.has(node))) add(pieces[link]?.owner);
        }
      }
      return {
        rule: finding.kind,
        severity: 'error',
        message: finding.message,
        refs: [...refs.values()].slice(0, 50),
      };
    });
}
