import { LINK } from '../../hydraulics/network.ts';
import { linkLine, type RunEnds } from './link-line.ts';
import type { ControlSet, Plan, Supply } from '../../plan/records.ts';
import type { Ground } from '../ground/index.ts';
import type { PlacedOutlet, PlanNetwork } from '../results.ts';
import type { Connection } from './connect.ts';
import type { Line } from './lines.ts';
import { NetworkDraft } from './network-draft.ts';
import type { Notices } from './notices.ts';
import { FEEDER_BORE_M, hasFeeder, type LineOutlet, outletsOf } from './outlets.ts';
import { SMOOTH_ROUGHNESS_M } from './pipe-bore.ts';
import { stopsOf } from './stops.ts';
import { placeControl } from './place-control.ts';
import { placeCheckValves } from './check-valves.ts';
import { placeFlushEnds } from './flush-ends.ts';
import { placeSupply } from './supply-chain.ts';

/** Temperature of the water where it was not measured, degrees Celsius. */
const USUAL_WATER_C = 20;

/** Puts the network together from lines and what joins them. */
export function assemble(
  plan: Pick<Plan, 'runs' | 'emitters' | 'water' | 'checkValves' | 'flushEnds'>,
  lines: readonly Line[],
  supplies: readonly Supply[],
  controls: readonly ControlSet[],
  { taps, lineLevel, fed, controlSupply }: Connection,
  ground: Ground,
  notices: Notices,
): PlanNetwork {
  const { byLine, lost, lostRun } = outletsOf(plan, lines, ground, notices);
  const stops = lines.map((line, i) => stopsOf(line, i, byLine[i]!, taps));
  const draft = new NetworkDraft();
  const nodeOf = new Int32Array(taps.sets.size).fill(-1);
  /** Node of a tap's set, at the lowest of the places that meet there. */
  const nodeAt = (tap: number, zM: number): number => {
    const root = taps.sets.root(tap);
    const known = nodeOf[root]!;
    if (known < 0) {
      const node = draft.node(zM);
      nodeOf[root] = node;
      return node;
    }
    if (zM < draft.elevationOf(known)) draft.setElevation(known, zM);
    return known;
  };
  const heightOf = (supply: Supply): number => supply.zM ?? ground.heightAt(supply.at).zM;

  const supplyNodes = supplies.map((supply, s) => nodeAt(taps.supply(s), heightOf(supply)));
  const controlNodes = controls.map((control, c) => {
    const under = supplies[controlSupply[c]!];
    const zM = under ? heightOf(under) : ground.heightAt(control.at).zM;
    return { inlet: nodeAt(taps.inlet(c), zM), outlet: nodeAt(taps.outlet(c), zM), zM };
  });
  const stopNodes = stops.map((list) =>
    list.map(({ tap, zM }) => (tap >= 0 ? nodeAt(tap, zM) : draft.node(zM))),
  );
  // A typed height holds at its supply, whatever the ground is there.
  supplies.forEach((supply, s) => {
    if (supply.zM !== null) draft.setElevation(supplyNodes[s]!, supply.zM);
  });

  const placedSupplies = supplies.map((supply, s) =>
    placeSupply(plan.water, supply, supplyNodes[s]!, draft, notices),
  );
  const placedControls = controls.map((control, c) =>
    placeControl(control, controlNodes[c]!, fed[c]!, draft, notices),
  );
  const runNodes = new Map<string, number[]>();
  const runLengthM = new Map<string, number>();
  const valves = placeCheckValves(plan.checkValves, lines, notices);
  const ends: RunEnds = new Map();
  lines.forEach((line, i) => {
    const extra = linkLine(line, stops[i]!, stopNodes[i]!, valves.byLine[i] ?? [], draft, ends);
    if (!line.isRun) return;
    runNodes.set(line.owner.id, [...new Set([...stopNodes[i]!, ...extra])]);
    runLengthM.set(line.owner.id, line.profile.groundLengthM);
  });

  const outlets: PlacedOutlet[] = [];
  lines.forEach((line, i) => {
    if (!line.isRun) return;
    let number = 0;
    stops[i]!.forEach((stop, k) => {
      for (let index = stop.firstOutlet; index < stop.firstOutlet + stop.outletCount; index++) {
        number += 1;
        const part = byLine[i]![index]!;
        const placed = placeOutlet(part, stopNodes[i]![k]!, stop.zM, draft, ground);
        outlets.push(describe(part, line.owner.id, number, placed));
      }
    });
  });
  lost.forEach((part, k) => {
    const { zM } = ground.heightAt(part.at);
    const node = draft.node(zM);
    draft.outlet(part, node, node, zM);
    outlets.push(describe(part, lostRun[k]!, 1, zM));
  });
  startAtInlet(runNodes, draft.linksAway(supplyNodes));

  const isRunWith = (level: (n: number) => boolean): string[] =>
    lines.filter((line, i) => line.isRun && level(lineLevel[i]!)).map((line) => line.owner.id);
  return {
    network: draft.finish(
      placedSupplies.map(({ source, node }) => (source >= 0 ? source : node)),
      plan.water.waterC ?? USUAL_WATER_C,
    ),
    outlets,
    pieces: draft.pieces,
    runNodes,
    parts: {
      controls: placedControls,
      supplies: placedSupplies,
      checkValves: valves.placed,
      flushEnds: placeFlushEnds(plan.flushEnds, ends, notices),
      runLengthM,
      apartRuns: isRunWith((n) => n === Infinity),
      bareRuns: isRunWith((n) => n === 0),
    },
    notices: notices.all(),
  };
}

/** Puts an outlet at its node, with a feeder where it sits off the tubing; gives its height. */
function placeOutlet(
  part: LineOutlet,
  tapNode: number,
  tapZM: number,
  draft: NetworkDraft,
  ground: Ground,
): number {
  if (!hasFeeder(part)) {
    draft.outlet(part, tapNode, tapNode, tapZM);
    return tapZM;
  }
  const { zM } = ground.heightAt(part.at);
  const node = draft.node(zM);
  draft.link(
    {
      kind: LINK.pipe,
      from: tapNode,
      to: node,
      lengthM: part.feederM,
      boreM: FEEDER_BORE_M,
      roughnessM: SMOOTH_ROUGHNESS_M,
    },
    part.owner,
    part.tap,
    part.at,
  );
  draft.outlet(part, node, tapNode, zM);
  return zM;
}

function describe(part: LineOutlet, runId: string, number: number, zM: number): PlacedOutlet {
  const { owner, at, plantId, ratedFlowLph, law, tap, feederM } = part;
  const { minKpa, maxKpa, compensating, cv, closingKpa } = law;
  return {
    owner,
    runId,
    number,
    at,
    zM,
    plantId,
    ratedFlowLph,
    minKpa,
    maxKpa,
    compensating,
    cv,
    closingKpa,
    tap,
    feederM,
  };
}

/** Puts the node with the fewest links to a supply first: there the water enters the run. */
function startAtInlet(runNodes: Map<string, number[]>, away: Int32Array): void {
  for (const [id, nodes] of runNodes) {
    const distanceOf = (node: number): number => (away[node]! < 0 ? Infinity : away[node]!);
    let inlet = 0;
    nodes.forEach((node, k) => {
      if (distanceOf(node) < distanceOf(nodes[inlet]!)) inlet = k;
    });
    if (inlet > 0) runNodes.set(id, [nodes[inlet]!, ...nodes.filter((_, k) => k !== inlet)]);
  }
}
