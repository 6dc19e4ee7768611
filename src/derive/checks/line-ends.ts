import { memo } from '../../base/memo.ts';
import { distance, type Point } from '../../base/point.ts';
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

/** Tubing of runs as a graph of places with heights. */
interface Tubing {
  readonly nodes: readonly number[];
  readonly at: ReadonlyMap<number, Point>;
  readonly runOf: ReadonlyMap<number, string>;
  readonly next: ReadonlyMap<number, readonly number[]>;
  readonly byRun: ReadonlyMap<string, readonly number[]>;
  /** Nodes on tubing in one piece with dripline. */
  readonly inGrid: (node: number) => boolean;
}

const tubingOf = memo((runs: Plan['runs'], { network, pieces }: PlanNetwork): Tubing => {
  const at = new Map<number, Point>();
  const runOf = new Map<number, string>();
  const next = new Map<number, number[]>();
  const byRun = new Map<string, number[]>();
  const whole = new UnionFind(network.nodes.count);
  const grid: number[] = [];
  const link = (a: number, b: number): void => {
    const list = next.get(a);
    if (list) list.push(b);
    else next.set(a, [b]);
  };
  pieces.forEach(({ owner, a, b }, k) => {
    if (owner.table !== 'runs' && owner.table !== 'checkValves') return;
    const [from, to] = [network.links.from[k]!, network.links.to[k]!];
    link(from, to);
    link(to, from);
    whole.join(from, to);
    if (owner.table !== 'runs') return;
    at.set(from, a);
    at.set(to, b);
    const isInline = runs.get(owner.id)?.inline !== null;
    for (const node of [from, to]) if (!runOf.has(node) || !isInline) runOf.set(node, owner.id);
    const list = byRun.get(owner.id);
    if (list) list.push(from, to);
    else byRun.set(owner.id, [from, to]);
    if (isInline) grid.push(from);
  });
  const roots = new Set(grid.map((node) => whole.root(node)));
  return {
    nodes: [...at.keys()],
    at,
    runOf,
    next,
    byRun,
    inGrid: (node) => roots.has(whole.root(node)),
  };
});

/**
 * High (or low) places of the tubing of grids, each with how far it stands out: the nodes are gone through from the
 * highest down, so that where two parts meet the lower summit ends there. Takes n log n.
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
  const order = tubing.nodes.filter(tubing.inGrid).sort((a, b) => height(b) - height(a) || a - b);
  const parts = new UnionFind(planNetwork.network.nodes.count);
  const summit = new Map<number, { top: number; servedAt: number; lowest: number }>();
  const found: Extreme[] = [];
  const end = (state: { top: number; servedAt: number }, saddle: number): void => {
    found.push({
      runId: tubing.runOf.get(state.top)!,
      at: tubing.at.get(state.top)!,
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
    for (const other of tubing.next.get(node) ?? []) {
      if (!seen.has(other)) continue;
      const [a, b] = [parts.root(node), parts.root(other)];
      if (a === b) continue;
      const theirs = summit.get(b)!;
      const [upper, lower] = height(theirs.top) >= height(state.top) ? [theirs, state] : [state, theirs];
      if (lower.top !== node) end(lower, own);
      state = { top: upper.top, servedAt: Math.max(upper.servedAt, lower.servedAt), lowest: own };
      parts.join(node, other);
      summit.set(parts.root(node), state);
    }
    summit.set(parts.root(node), state);
  }
  for (const root of new Set(order.map((node) => parts.root(node)))) {
    const state = summit.get(root)!;
    end(state, state.lowest);
  }
  return found;
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
    let nearest = -1;
    for (const node of tubing.byRun.get(runId) ?? []) {
      const away = distance(tubing.at.get(node)!, at);
      if (away < best) [best, nearest] = [away, node];
    }
    if (nearest >= 0) nodes.add(nearest);
  }
  return nodes;
}
