import { cu, dulq, flowVariation, headToKpa, m3sToLph, type Solution } from '../hydraulics/index.ts';
import type { Ref } from '../plan/records.ts';
import type {
  Notice,
  OutletResult,
  OutletState,
  PlacedOutlet,
  PlanNetwork,
  Results,
  RunResult,
  Uniformity,
} from './results.ts';
import { zonesOf } from './zones.ts';

/** A pressure counts as in range this near to its limit, as a share of it: the solver is no finer. */
const AT_LIMIT = 1e-6;

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
    uniformity: uniformityOf(reached),
    notices: [...planNetwork.notices, ...solverNotices(planNetwork, solution)],
    solution,
  };
}

function stateOf({ minKpa, maxKpa }: PlacedOutlet, pressureKpa: number): OutletState {
  if (Number.isNaN(pressureKpa)) return 'apart';
  if (pressureKpa <= 0) return 'dry';
  if (pressureKpa < minKpa * (1 - AT_LIMIT)) return 'low';
  return pressureKpa > maxKpa * (1 + AT_LIMIT) ? 'high' : 'good';
}

/** Flows as shares of the rated flows; null where nothing flows, since shares of nothing say nothing. */
function uniformityOf(reached: readonly OutletResult[]): Uniformity | null {
  const shares = reached.map((outlet) => outlet.flowLph / outlet.ratedFlowLph);
  if (!shares.some((share) => share > 0)) return null;
  return { dulq: dulq(shares), cu: cu(shares), flowVariation: flowVariation(shares) };
}

function runResults(
  { network, pieces, runNodes, parts }: PlanNetwork,
  { headM, flowM3s }: Solution,
  outlets: readonly OutletResult[],
): Map<string, RunResult> {
  const own = new Map<string, { count: number; flowLph: number; velocityMs: number }>();
  for (const id of runNodes.keys()) own.set(id, { count: 0, flowLph: 0, velocityMs: 0 });
  for (const outlet of outlets) {
    const run = own.get(outlet.runId);
    if (!run) continue;
    run.count += 1;
    run.flowLph += outlet.flowLph;
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
    let worstKpa = Infinity;
    let highestKpa = -Infinity;
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
