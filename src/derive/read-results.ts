import { headToKpa, type Solution } from '../hydraulics/index.ts';
import type { Ref } from '../plan/records.ts';
import { OUTLET_STATES, outletValues, withValue, type OutletValues } from './outlet-values.ts';
import type { Notice, OutletState, PlacedPiece, PlanNetwork, Results, RunResult } from './results.ts';
import { uniformitiesOf } from './uniformity.ts';
import { suppliesOf, zonesOf } from './zones.ts';

/** What a solution says of the plan that its network was built from. Outlets are in the network's order. */
export function readResults(planNetwork: PlanNetwork, solution: Solution): Results {
  const values = outletValues(planNetwork, solution);
  return {
    outlets: planNetwork.outlets.map((placed, i) => withValue(placed, values, i)),
    ...readFigures(planNetwork, solution, values),
  };
}

/** The results without the list of outlets, from the columns of their values. */
export function readFigures(
  planNetwork: PlanNetwork,
  solution: Solution,
  values: OutletValues,
): Omit<Results, 'outlets'> {
  const { outlets } = planNetwork;
  const { pressureKpa, flowLph, states } = values;
  const counts: Record<OutletState, number> = { good: 0, low: 0, high: 0, dry: 0, apart: 0 };
  let lowestOutlet: number | null = null;
  let highestOutlet: number | null = null;
  let lowestKpa = NaN;
  let highestKpa = NaN;
  let totalFlowLph = 0;
  let reached = 0;
  for (let i = 0; i < outlets.length; i++) {
    const state = OUTLET_STATES[states[i]!]!;
    counts[state] += 1;
    // What is apart has no pressure.
    if (state === 'apart') continue;
    reached += 1;
    totalFlowLph += flowLph[i]!;
    const kpa = pressureKpa[i]!;
    if (lowestOutlet === null || kpa < lowestKpa) [lowestOutlet, lowestKpa] = [i, kpa];
    if (highestOutlet === null || kpa > highestKpa) [highestOutlet, highestKpa] = [i, kpa];
  }
  return {
    runs: runResults(planNetwork, solution, values),
    zones: zonesOf(planNetwork, solution),
    totalFlowLph,
    outletCount: outlets.length,
    lowestKpa,
    highestKpa,
    meanFlowLph: reached > 0 ? totalFlowLph / reached : NaN,
    counts,
    lowestOutlet,
    highestOutlet,
    ...uniformitiesOf(outlets, flowLph),
    supplies: suppliesOf(planNetwork, solution),
    notices: [...planNetwork.notices, ...solverNotices(planNetwork, solution)],
    solution,
  };
}

interface OwnFigures {
  count: number;
  flowLph: number;
  velocityMs: number;
  lowestKpa: number;
  highestKpa: number;
}

function runResults(
  { network, outlets, pieces, runNodes, parts }: PlanNetwork,
  { headM, flowM3s }: Solution,
  values: OutletValues,
): Map<string, RunResult> {
  const own = new Map<string, OwnFigures>();
  for (const id of runNodes.keys()) {
    own.set(id, { count: 0, flowLph: 0, velocityMs: 0, lowestKpa: Infinity, highestKpa: -Infinity });
  }
  // Outlets and pieces of a run follow each other: each run is looked up once, not for each of them.
  let runId: string | null = null;
  let run: OwnFigures | undefined;
  for (let i = 0; i < outlets.length; i++) {
    const outlet = outlets[i]!;
    if (outlet.runId !== runId) {
      runId = outlet.runId;
      run = own.get(runId);
    }
    if (!run) continue;
    const pressureKpa = values.pressureKpa[i]!;
    run.count += 1;
    run.flowLph += values.flowLph[i]!;
    if (pressureKpa < run.lowestKpa) run.lowestKpa = pressureKpa;
    if (pressureKpa > run.highestKpa) run.highestKpa = pressureKpa;
  }
  let owner: PlacedPiece['owner'] | null = null;
  for (let link = 0; link < pieces.length; link++) {
    const piece = pieces[link]!;
    if (piece.owner !== owner) {
      owner = piece.owner;
      run = owner.table === 'runs' ? own.get(owner.id) : undefined;
    }
    if (!run) continue;
    const velocityMs = Math.abs(flowM3s[link]!) / ((Math.PI / 4) * network.links.boreM[link]! ** 2);
    if (velocityMs > run.velocityMs) run.velocityMs = velocityMs;
  }
  const results = new Map<string, RunResult>();
  for (const [id, nodes] of runNodes) {
    let inlet = nodes[0]!;
    // Outlets behind feeders lie on no node of the run itself.
    let { lowestKpa: worstKpa, highestKpa } = own.get(id)!;
    for (const node of nodes) {
      // Total head only falls along the flow, so water enters where it is highest.
      if (headM[node]! > headM[inlet]! + 1e-9) inlet = node;
      const pressureKpa = headToKpa(headM[node]! - network.nodes.elevationM[node]!);
      if (pressureKpa < worstKpa) worstKpa = pressureKpa;
      if (pressureKpa > highestKpa) highestKpa = pressureKpa;
    }
    const { count, flowLph, velocityMs } = own.get(id)!;
    results.set(id, {
      runId: id,
      lengthM: parts.runLengthM.get(id) ?? 0,
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
