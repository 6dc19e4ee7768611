import { FILTERS, filterById, REGULATORS, regulatorById } from '../../catalog/index.ts';
import { LINK } from '../../hydraulics/network.ts';
import { kpaToHead } from '../../hydraulics/index.ts';
import type { ControlSet, Plan, Supply } from '../../plan/records.ts';
import type { Ground } from '../ground/index.ts';
import type { PlacedControl, PlacedOutlet, PlacedSupply, PlanNetwork } from '../results.ts';
import type { Connection } from './connect.ts';
import type { Line } from './lines.ts';
import { NetworkDraft } from './network-draft.ts';
import { called, type Notices } from './notices.ts';
import { FEEDER_BORE_M, hasFeeder, type LineOutlet, outletsOf } from './outlets.ts';
import { SMOOTH_ROUGHNESS_M } from './pipe-bore.ts';
import { stopsOf } from './stops.ts';
import { squareCurve, supplyCurve } from './supply-curve.ts';

/** Puts the network together from lines and what joins them. */
export function assemble(
  plan: Pick<Plan, 'runs' | 'emitters' | 'water'>,
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
    placeSupply(plan, supply, supplyNodes[s]!, draft, notices),
  );
  const placedControls = controls.map((control, c) =>
    placeControl(control, controlNodes[c]!, fed[c]!, draft, notices),
  );
  const runNodes = new Map<string, number[]>();
  const runLengthM = new Map<string, number>();
  lines.forEach((line, i) => {
    const nodes = stopNodes[i]!;
    for (let k = 0; k + 1 < nodes.length; k++) {
      const from = stops[i]![k]!;
      const to = stops[i]![k + 1]!;
      if (nodes[k] === nodes[k + 1]) continue;
      draft.link(
        {
          kind: LINK.pipe,
          from: nodes[k]!,
          to: nodes[k + 1]!,
          lengthM: to.groundAlong - from.groundAlong,
          boreM: line.boreM,
          roughnessM: line.roughnessM,
        },
        line.owner,
        from.point,
        to.point,
      );
    }
    if (!line.isRun) return;
    runNodes.set(line.owner.id, [...new Set(nodes)]);
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
    network: draft.finish(),
    outlets,
    pieces: draft.pieces,
    runNodes,
    parts: {
      controls: placedControls,
      supplies: placedSupplies,
      runLengthM,
      apartRuns: isRunWith((n) => n === Infinity),
      bareRuns: isRunWith((n) => n === 0),
    },
    notices: notices.all(),
  };
}

function placeSupply(
  plan: Pick<Plan, 'runs' | 'emitters' | 'water'>,
  supply: Supply,
  node: number,
  draft: NetworkDraft,
  notices: Notices,
): PlacedSupply {
  const staticKpa = supply.pressureKpa ?? plan.water.staticKpa;
  const none = { id: supply.id, node, link: -1, hasPressure: false };
  if (staticKpa === null || !Number.isFinite(staticKpa)) return none;
  const ref = { table: 'supplies', id: supply.id } as const;
  // Measured where the static pressure of the service was; a valve's own static pressure keeps the same fall.
  const { curve, unusable } = supplyCurve(plan.water.staticKpa ?? staticKpa, plan.water.workingPoints);
  if (unusable.length > 0) {
    notices.add(
      'working-point-unusable',
      'warning',
      `${unusable.length} working point(s) of the water service cannot be used: pressure must fall below the static pressure as flow grows. Measure or type them again.`,
      ref,
    );
  }
  if (curve) {
    const source = draft.node(draft.elevationOf(node));
    draft.hold(source, staticKpa);
    const link = draft.link(
      { kind: LINK.loss, from: source, to: node, curve: draft.lossCurve(curve) },
      ref,
      supply.at,
      supply.at,
    );
    return { id: supply.id, node, link, hasPressure: true };
  }
  if (draft.isHeld(node)) {
    notices.add(
      'supplies-in-one-place',
      'warning',
      `Supply ${called(supply)} meets another one; the pressure of the first is taken. Join each valve to its own pipe.`,
      ref,
    );
    return { ...none, hasPressure: true };
  }
  draft.hold(node, staticKpa);
  return { ...none, hasPressure: true };
}

function placeControl(
  control: ControlSet,
  { inlet, outlet, zM }: { readonly inlet: number; readonly outlet: number; readonly zM: number },
  fed: boolean,
  draft: NetworkDraft,
  notices: Notices,
): PlacedControl {
  const ref = { table: 'controls', id: control.id } as const;
  const unknown = (what: string, id: string, standIn: string): void =>
    notices.add(
      'unknown-control-part',
      'warning',
      `The ${what} "${id}" of control set ${called(control)} is not in the catalog; "${standIn}" is taken. Choose it again.`,
      ref,
    );
  const filter = filterById(control.filter) ?? FILTERS[0]!;
  if (!filterById(control.filter)) unknown('filter', control.filter, filter.name);
  const regulator = regulatorById(control.regulator) ?? REGULATORS[0]!;
  if (!regulatorById(control.regulator)) unknown('regulator', control.regulator, regulator.name);
  let { setKpa } = control;
  if (!(setKpa > 0)) {
    setKpa = regulator.settingsKpa[0]!;
    notices.add(
      'control-setting',
      'warning',
      `Control set ${called(control)} has no set pressure; the lowest usual one is taken. Type it.`,
      ref,
    );
  }
  const between = draft.node(zM);
  const filterLink = draft.link(
    {
      kind: LINK.loss,
      from: inlet,
      to: between,
      curve: draft.lossCurve(squareCurve(filter.ratedFlowLph, filter.cleanLossKpa)),
    },
    ref,
    control.at,
    control.at,
  );
  const regulatorLink = draft.link(
    {
      kind: LINK.regulator,
      from: between,
      to: outlet,
      settingM: kpaToHead(setKpa),
      // Wide open it takes its headroom at the top of its window, less at lower flow (common practice).
      curve: draft.lossCurve(squareCurve(regulator.maxFlowLph, regulator.headroomKpa)),
    },
    ref,
    control.at,
    control.at,
  );
  return { id: control.id, inlet, outlet, filterLink, regulatorLink, fed };
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
  const { minKpa, maxKpa, compensating } = law;
  return { owner, runId, number, at, zM, plantId, ratedFlowLph, minKpa, maxKpa, compensating, tap, feederM };
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
