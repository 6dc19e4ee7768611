import { between, distance, type Point } from '../../base/point.ts';
import { kpaToHead } from '../../hydraulics/index.ts';
import type { Plan } from '../../plan/records.ts';
import { FALL } from '../checks/drain-down.ts';
import { limitOf } from '../checks/check.ts';
import { UnionFind } from '../network/union-find.ts';
import type { PlanNetwork } from '../results.ts';
import { isAbove } from '../wording.ts';
import { BAND_RISE_M, bandCount } from './band-count.ts';

/** A place for a check valve on a run, where water passes along the run's path and upwards. */
export interface CheckPlace {
  readonly runId: string;
  readonly at: Point;
  readonly zM: number;
  /** `entry`: where water comes to the first row; `band`: on a header, at the base of a band further up. */
  readonly why: 'entry' | 'band';
  /** Height of the tubing behind it whose water it holds, metres. */
  readonly heightM: number;
}

export interface CheckPlaces {
  readonly places: readonly CheckPlace[];
  /** Runs drawn against the water, mostly flush headers, where a valve would be wanted: it would shut them off. */
  readonly against: readonly string[];
}

/** So far before the first row, at most, metres (1 ft: room for a fitting). */
const BEFORE_ROW_M = 0.3;

interface Way {
  readonly to: number;
  readonly link: number;
}

/**
 * Where check valves are wanted so that water that stands higher does not run out below: before the first row of each
 * grid of dripline, and on its headers at the base of each band of at most 10 ft above the lowest. Grids whose rows differ
 * by no more than the fall that design check 25 lets pass, or whose emitters hold it back, want none; nor do places
 * that a check valve serves already. Takes time by the size of the network.
 */
export function checkPlaces(plan: Plan, planNetwork: PlanNetwork): CheckPlaces {
  const { network, pieces, parts, outlets } = planNetwork;
  const { from, to } = network.links;
  const { elevationM, count } = network.nodes;
  const ways = new Map<number, Way[]>();
  const onRows = new Set<number>();
  const way = (a: number, b: number, link: number): void => {
    const list = ways.get(a);
    if (list) list.push({ to: b, link });
    else ways.set(a, [{ to: b, link }]);
  };
  const runOf = (link: number): string | null => {
    const { owner } = pieces[link]!;
    return owner.table === 'runs' ? owner.id : null;
  };
  const isRow = (link: number): boolean => {
    const id = runOf(link);
    return id !== null && (plan.runs.get(id)?.inline ?? null) !== null;
  };
  const tubing: number[] = [];
  pieces.forEach(({ owner }, link) => {
    if (owner.table !== 'runs' && owner.table !== 'checkValves') return;
    tubing.push(link);
    way(from[link]!, to[link]!, link);
    way(to[link]!, from[link]!, link);
    if (isRow(link)) onRows.add(from[link]!).add(to[link]!);
  });
  const sources = [
    ...parts.controls.filter(({ fed }) => fed).map(({ outlet }) => outlet),
    ...parts.supplies.map(({ node }) => node),
  ].filter((node) => ways.has(node));

  // From the water outwards, by the number of pieces: headers are reached before rows lead round.
  const reachedBy = new Map<number, Way>();
  const order = new Map<number, number>();
  /** Nodes to which water comes through blank tubing alone, and whether it passes a check valve on the way. */
  const before = new Map<number, boolean>();
  const queue: number[] = [];
  for (const node of new Set(sources)) {
    order.set(node, order.size);
    before.set(node, false);
    queue.push(node);
  }
  const leading = new Set<number>();
  for (let i = 0; i < queue.length; i++) {
    const node = queue[i]!;
    const passed = before.get(node);
    for (const { to: next, link } of ways.get(node) ?? []) {
      if (order.has(next)) continue;
      order.set(next, order.size);
      reachedBy.set(next, { to: node, link });
      queue.push(next);
      if (passed === undefined || onRows.has(node)) continue;
      before.set(next, passed || pieces[link]!.owner.table === 'checkValves');
      leading.add(link);
    }
  }

  // What hangs together behind the entries is a grid; a piece that leads to one belongs to none.
  const grids = new UnionFind(count);
  for (const link of tubing) if (!leading.has(link)) grids.join(from[link]!, to[link]!);
  const spans = new Map<number, { low: number; high: number; holdsM: number }>();
  outlets.forEach(({ closingKpa }, i) => {
    const node = network.outlets.node[i]!;
    if (!order.has(node)) return;
    const root = grids.root(node);
    const own = elevationM[node]! + network.outlets.riseM[i]!;
    const holds = closingKpa === null ? 0 : kpaToHead(closingKpa);
    const span = spans.get(root);
    if (!span) spans.set(root, { low: own, high: own, holdsM: holds });
    else {
      span.low = Math.min(span.low, own);
      span.high = Math.max(span.high, own);
      span.holdsM = Math.min(span.holdsM, holds);
    }
  });
  const fallM = limitOf(plan)(FALL);
  const wanted = (root: number): { low: number; high: number } | null => {
    const span = spans.get(root);
    if (!span || !isAbove(span.high - span.low, Math.max(fallM, span.holdsM))) return null;
    return span;
  };

  const places: CheckPlace[] = [];
  const against = new Set<string>();
  const follows = (link: number): boolean => order.get(from[link]!)! < order.get(to[link]!)!;

  for (const [node, passed] of before) {
    const came = reachedBy.get(node);
    if (passed || !came || !onRows.has(node)) continue;
    const span = wanted(grids.root(node));
    const runId = runOf(came.link);
    if (!span || runId === null || !isAbove(span.high - elevationM[node]!, fallM)) continue;
    if (!follows(came.link)) {
      against.add(runId);
      continue;
    }
    const { a, b } = pieces[came.link]!;
    const lengthM = distance(a, b);
    const back = lengthM > 0 ? Math.min(BEFORE_ROW_M, lengthM / 2) / lengthM : 0;
    const zM = elevationM[node]! + back * (elevationM[came.to]! - elevationM[node]!);
    places.push({ runId, at: between(b, a, back), zM, why: 'entry', heightM: span.high - zM });
  }

  const valvesOn = new Map<string, number[]>();
  for (const { runId, link } of parts.checkValves)
    valvesOn.set(runId, [...(valvesOn.get(runId) ?? []), elevationM[from[link]!]!]);
  for (const link of tubing) {
    const runId = runOf(link);
    if (runId === null || leading.has(link) || isRow(link) || !order.has(from[link]!)) continue;
    const span = wanted(grids.root(from[link]!));
    const bands = span ? bandCount(span.high - span.low, BAND_RISE_M) : 1;
    if (!span || bands === 1) continue;
    const bandM = (span.high - span.low) / bands;
    const isAlong = follows(link);
    const [near, far] = isAlong ? [from[link]!, to[link]!] : [to[link]!, from[link]!];
    const [zNear, zFar] = [elevationM[near]!, elevationM[far]!];
    for (let k = 1; k < bands; k++) {
      const zM = span.low + k * bandM;
      if (!(zNear < zM && zFar >= zM)) continue;
      if (valvesOn.get(runId)?.some((own) => Math.abs(own - zM) < bandM / 2)) continue;
      if (!isAlong) {
        against.add(runId);
        continue;
      }
      const { a, b } = pieces[link]!;
      const at = between(a, b, (zM - zNear) / (zFar - zNear));
      places.push({ runId, at, zM, why: 'band', heightM: bandM });
    }
  }
  return { places, against: [...against] };
}
