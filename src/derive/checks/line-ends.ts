import { memo } from '../../base/memo.ts';
import { between, distance, type Point } from '../../base/point.ts';
import { nearestOnSegment } from '../../base/polyline.ts';
import { placeOnRun } from '../../plan/on-run.ts';
import type { LinePartKind, Plan } from '../../plan/records.ts';
import { UnionFind } from '../network/union-find.ts';
import type { PlanNetwork } from '../results.ts';

/** A high or a low place of the tubing, from which all ways lead down, or up, by `depthM` at least. */
export interface Extreme {
  readonly runId: string;
  readonly at: Point;
  readonly zM: number;
  /** To the saddle over which water would pass to a higher, or lower, place; for the last one to the far end. */
  readonly depthM: number;
  /** Whether a part that serves it sits within `WITHIN_M` of its height on its own side of the saddle. */
  readonly served: boolean;
}

/** A part this far below a high place, or above a low one, still lets its air out, or its water, metres. */
const WITHIN_M = 0.15;

interface TubingPiece {
  readonly from: number;
  readonly to: number;
  readonly a: Point;
  readonly b: Point;
}

/** Tubing of runs as a graph of places with heights. */
interface Tubing {
  readonly nodes: readonly number[];
  readonly at: ReadonlyMap<number, Point>;
  readonly runOf: ReadonlyMap<number, string>;
  readonly next: ReadonlyMap<number, readonly number[]>;
  /** Over a check valve: the node at its other side, and whether water passes to there; else from there. */
  readonly overValve: ReadonlyMap<number, readonly { readonly to: number; readonly passesTo: boolean }[]>;
  /** Pieces by run, with their nodes. */
  readonly byRun: ReadonlyMap<string, readonly TubingPiece[]>;
  /** Nodes on tubing in one piece with dripline, over check valves too, or without passing any. */
  readonly inGrid: (node: number) => boolean;
  readonly inBand: (node: number) => boolean;
}

const tubingOf = memo((runs: Plan['runs'], { network, pieces }: PlanNetwork): Tubing => {
  const at = new Map<number, Point>();
  const runOf = new Map<number, string>();
  const next = new Map<number, number[]>();
  const overValve = new Map<number, { to: number; passesTo: boolean }[]>();
  const byRun = new Map<string, TubingPiece[]>();
  const whole = new UnionFind(network.nodes.count);
  const bands = new UnionFind(network.nodes.count);
  const grid: number[] = [];
  const link = (a: number, b: number): void => {
    const list = next.get(a);
    if (list) list.push(b);
    else next.set(a, [b]);
  };
  pieces.forEach(({ owner, a, b }, k) => {
    if (owner.table !== 'runs' && owner.table !== 'checkValves') return;
    const [from, to] = [network.links.from[k]!, network.links.to[k]!];
    whole.join(from, to);
    if (owner.table === 'checkValves') {
      overValve.set(from, [...(overValve.get(from) ?? []), { to, passesTo: true }]);
      overValve.set(to, [...(overValve.get(to) ?? []), { to: from, passesTo: false }]);
      return;
    }
    bands.join(from, to);
    link(from, to);
    link(to, from);
    at.set(from, a);
    at.set(to, b);
    const isInline = runs.get(owner.id)?.inline !== null;
    for (const node of [from, to]) if (!runOf.has(node) || !isInline) runOf.set(node, owner.id);
    const list = byRun.get(owner.id);
    const piece = { from, to, a, b };
    if (list) list.push(piece);
    else byRun.set(owner.id, [piece]);
    if (isInline) grid.push(from);
  });
  const roots = new Set(grid.map((node) => whole.root(node)));
  const bandRoots = new Set(grid.map((node) => bands.root(node)));
  return {
    nodes: [...at.keys()],
    at,
    runOf,
    next,
    overValve,
    byRun,
    inGrid: (node) => roots.has(whole.root(node)),
    inBand: (node) => bandRoots.has(bands.root(node)),
  };
});

/**
 * High (or low) places of the tubing of grids, each with how far it stands out: the nodes are gone through from the
 * highest down, so that where two parts meet the lower summit ends there. A check valve lets water run down to a low
 * place, and air come to a high one, in its direction only; so what lies behind it the other way has a place of its own.
 * Takes n log n.
 */
export function extremesOf(
  plan: Pick<Plan, 'runs' | 'flushEnds' | 'checkValves' | 'lineParts'>,
  planNetwork: PlanNetwork,
  which: 'high' | 'low',
): Extreme[] {
  const tubing = tubingOf(plan.runs, planNetwork);
  const { elevationM } = planNetwork.network.nodes;
  const sign = which === 'high' ? 1 : -1;
  const height = (node: number): number => sign * elevationM[node]!;
  const serving = servingNodes(plan, tubing, which);
  // Soil is drawn in where dripline hangs on without a valve between; water stands and freezes in what leads there too.
  const order = tubing.nodes
    .filter(which === 'high' ? tubing.inBand : tubing.inGrid)
    .sort((a, b) => height(b) - height(a) || a - b);
  const parts = new UnionFind(planNetwork.network.nodes.count);
  const summit = new Map<number, { top: number; servedAt: number; lowest: number }>();
  const found: Extreme[] = [];
  const end = (state: { top: number; servedAt: number }, saddle: number): void => {
    found.push({
      runId: tubing.runOf.get(state.top)!,
      at: besideValve(tubing, state.top),
      zM: elevationM[state.top]!,
      depthM: height(state.top) - saddle,
      served: state.servedAt >= height(state.top) - WITHIN_M,
    });
  };
  const seen = new Set<number>();
  for (const node of order) {
    const own = height(node);
    let state = { top: node, servedAt: serving.has(node) ? own : -Infinity, lowest: own };
    seen.add(node);
    const meet = (other: number): void => {
      const [a, b] = [parts.root(node), parts.root(other)];
      if (a === b) return;
      const theirs = summit.get(b)!;
      const [upper, lower] = height(theirs.top) >= height(state.top) ? [theirs, state] : [state, theirs];
      if (lower.top !== node) end(lower, own);
      state = { top: upper.top, servedAt: Math.max(upper.servedAt, lower.servedAt), lowest: own };
      parts.join(node, other);
      summit.set(parts.root(node), state);
    };
    summit.set(parts.root(node), state);
    for (const other of tubing.next.get(node) ?? []) if (seen.has(other)) meet(other);
    for (const { to: other, passesTo } of tubing.overValve.get(node) ?? []) {
      if (!seen.has(other)) continue;
      // Water runs to a low place and air from a high one; what has a way without the valve needs none through it.
      const leads = which === 'low' ? passesTo : !passesTo;
      const stuck = leads ? state.top === node : summit.get(parts.root(other))!.top === other;
      if (stuck && (leads || height(other) - own < LEVEL_M)) meet(other);
    }
  }
  for (const root of new Set(order.map((node) => parts.root(node)))) {
    const state = summit.get(root)!;
    end(state, state.lowest);
  }
  return found;
}

/** The two sides of a check valve lie at one height. */
const LEVEL_M = 1e-6;
/** A part stands at least so far beside a check valve, or half way to the next place, metres. */
const BESIDE_M = 0.1;

/** The place of a node, and by a check valve a little to its own side: there a part would stand. */
function besideValve({ at, overValve, byRun, runOf }: Tubing, node: number): Point {
  const own = at.get(node)!;
  if (!overValve.has(node)) return own;
  for (const { from, to, a, b } of byRun.get(runOf.get(node)!) ?? []) {
    const lengthM = distance(a, b);
    if ((from !== node && to !== node) || lengthM === 0) continue;
    const share = Math.min(BESIDE_M / lengthM, 0.5);
    return from === node ? between(a, b, share) : between(b, a, share);
  }
  return own;
}

const SERVES: Readonly<Record<'high' | 'low', LinePartKind>> = { high: 'air relief', low: 'drain' };

/** Nodes nearest to the parts that serve: air reliefs at high places; drains and openable ends at low ones. */
function servingNodes(
  plan: Pick<Plan, 'runs' | 'flushEnds' | 'checkValves' | 'lineParts'>,
  tubing: Tubing,
  which: 'high' | 'low',
): ReadonlySet<number> {
  const places: { readonly runId: string; readonly at: Point }[] = [];
  for (const part of plan.lineParts) {
    const at = part.kind === SERVES[which] ? placeOnRun(plan, { table: 'lineParts', id: part.id }) : null;
    if (at) places.push({ runId: part.runId, at });
  }
  if (which === 'low') {
    for (const { id, runId } of plan.flushEnds) {
      const at = placeOnRun(plan, { table: 'flushEnds', id });
      if (at) places.push({ runId, at });
    }
  }
  const nodes = new Set<number>();
  for (const { runId, at } of places) {
    let best = Infinity;
    let nearest: TubingPiece | null = null;
    for (const piece of tubing.byRun.get(runId) ?? []) {
      const away = nearestOnSegment(piece.a, piece.b, at).distance;
      if (away < best) [best, nearest] = [away, piece];
    }
    if (nearest) nodes.add(distance(nearest.a, at) <= distance(nearest.b, at) ? nearest.from : nearest.to);
  }
  return nodes;
}
