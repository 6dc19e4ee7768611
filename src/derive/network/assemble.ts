import { linkLine, type RunEnds } from './link-line.ts';
import type { ControlSet, Plan, Supply } from '../../plan/records.ts';
import type { Ground } from '../ground/index.ts';
import type { PlacedOutlet, PlacedPiece, PlanNetwork } from '../results.ts';
import type { LineValve } from './check-valves.ts';
import type { Connection } from './connect.ts';
import type { Line } from './lines.ts';
import { NetworkDraft } from './network-draft.ts';
import type { Notices } from './notices.ts';
import { FEEDER_BORE_M, hasFeeder, type LineOutlet, outletsOf } from './outlets.ts';
import { SMOOTH_ROUGHNESS_M } from './pipe-bore.ts';
import { type LineStops, stopsOf } from './stops.ts';
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
  // The nodes of all stops one after the other; those of a line begin at its place in `firstNode`.
  const firstNode = new Int32Array(lines.length + 1);
  for (let i = 0; i < lines.length; i++) firstNode[i + 1] = firstNode[i]! + stops[i]!.stops.length;
  const stopNodes = new Int32Array(firstNode[lines.length]!);
  for (let i = 0, at = 0; i < lines.length; i++) {
    for (const { tap, zM } of stops[i]!.stops)
      stopNodes[at++] = tap >= 0 ? nodeAt(taps.own(i, tap), zM) : draft.node(zM);
  }
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
    const base = firstNode[i]!;
    const extra = linkLine(line, stops[i]!, stopNodes, base, valves.byLine[i] ?? NO_VALVES, draft, ends);
    if (!line.isRun) return;
    runNodes.set(line.owner.id, distinct(stopNodes, base, firstNode[i + 1]!, extra));
    runLengthM.set(line.owner.id, line.profile.groundLengthM);
  });

  const outlets: PlacedOutlet[] = [];
  const nodeOfOutlet = new Map<LineOutlet, number>();
  lines.forEach((line, i) => {
    if (!line.isRun) return;
    placeOutlets(line.owner.id, stops[i]!, stopNodes, firstNode[i]!, draft, ground, nodeOfOutlet, outlets);
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

const NO_VALVES: readonly LineValve[] = [];

/** The nodes of a stretch, and further ones, each once, in their order. */
function distinct(nodes: Int32Array, start: number, end: number, further: readonly number[]): number[] {
  const list: number[] = [];
  let rising = true;
  for (let k = start; k < end; k++) {
    // Nodes are numbered in the order of the stops; only those known before can come twice.
    if (list.length > 0 && nodes[k]! <= list[list.length - 1]!) rising = false;
    list.push(nodes[k]!);
  }
  for (const node of further) list.push(node);
  return rising ? list : [...new Set(list)];
}

/** Puts the outlets of a run at its stops and adds them to `outlets`, numbered from 1 in the order of its path. */
function placeOutlets(
  runId: string,
  own: LineStops,
  stopNodes: Int32Array,
  base: number,
  draft: NetworkDraft,
  ground: Ground,
  nodeOf: Map<LineOutlet, number>,
  outlets: PlacedOutlet[],
): void {
  const { stops, outlets: parts, placed: before } = own;
  // Where all sit on the tubing nothing but their stops tells where and how high they are.
  const asBefore = before !== null && !own.hasFeeders;
  const placed: PlacedOutlet[] = [];
  let number = 0;
  for (let k = 0; k < stops.length; k++) {
    const { firstOutlet, outletCount, zM } = stops[k]!;
    for (let index = firstOutlet; index < firstOutlet + outletCount; index++) {
      number += 1;
      const part = parts[index]!;
      const node = stopNodes[base + k]!;
      if (asBefore) {
        draft.outlet(part, node, node, zM);
        continue;
      }
      if (hasFeeder(part) || part.from) own.hasFeeders = true;
      const ownZM = placeOutlet(part, node, zM, draft, ground, nodeOf);
      const known = before?.[number - 1];
      placed.push(known && Object.is(known.zM, ownZM) ? known : described(part, runId, number, ownZM));
    }
  }
  if (!asBefore) own.placed = placed;
  for (const outlet of own.placed!) outlets.push(outlet);
}

/** Of an outlet on a feeder what stays as long as it does: the height of its end, and the tube. */
const feederEnds = new WeakMap<LineOutlet, { readonly zM: number; readonly piece: PlacedPiece }>();

function feederEnd(part: LineOutlet, ground: Ground): { readonly zM: number; readonly piece: PlacedPiece } {
  let known = feederEnds.get(part);
  if (!known) {
    const piece = { owner: part.owner, a: part.tap, b: part.at };
    known = { zM: ground.heightAt(part.at).zM, piece };
    feederEnds.set(part, known);
  }
  return known;
}

/**
 * Puts an outlet at its node, with a feeder where it sits off the tubing or off the end of another's feeder; gives its
 * height. An emitter that sits on the run with its feeder behind it is the same to the water: the feeder runs full, so
 * the emitter has on its outer side the height of the feeder's end and the feeder's loss, and its drop of pressure is
 * that of the run less both, as it is at the feeder's end.
 */
function placeOutlet(
  part: LineOutlet,
  tapNode: number,
  tapZM: number,
  draft: NetworkDraft,
  ground: Ground,
  nodeOf: Map<LineOutlet, number>,
): number {
  const start = part.from ? nodeOf.get(part.from)! : tapNode;
  // Only feeders of point emitters start at one another.
  const mayBeStart = part.owner.table === 'emitters';
  if (!hasFeeder(part)) {
    const ownZM = part.from ? draft.elevationOf(start) : tapZM;
    draft.outlet(part, start, start, ownZM);
    if (mayBeStart) nodeOf.set(part, start);
    return ownZM;
  }
  const { zM, piece } = feederEnd(part, ground);
  const node = draft.node(zM);
  draft.pipe(start, node, part.feederM, FEEDER_BORE_M, SMOOTH_ROUGHNESS_M, piece);
  // The barb of a feeder stands in what it starts at; in a feeder its body is no part of the tubing.
  draft.outlet(part, node, start, zM);
  if (mayBeStart) nodeOf.set(part, node);
  return zM;
}

/** Point emitters as they were described, each for as long as nothing of it changes. */
const describedBefore = new WeakMap<LineOutlet, PlacedOutlet>();

function described(part: LineOutlet, runId: string, number: number, zM: number): PlacedOutlet {
  if (part.owner.table === 'runs') return describe(part, runId, number, zM);
  const known = describedBefore.get(part);
  if (known && known.runId === runId && known.number === number && Object.is(known.zM, zM)) return known;
  const made = describe(part, runId, number, zM);
  describedBefore.set(part, made);
  return made;
}

function describe(part: LineOutlet, runId: string, number: number, zM: number): PlacedOutlet {
  const { owner, at, plantId, alsoPlantIds, ratedFlowLph, law, tap, feederM, onRun, from } = part;
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
    alsoPlantIds,
    onRun: onRun === true && feederM > 0,
    fromEmitterId: from?.owner.id,
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
