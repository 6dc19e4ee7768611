import { distance, type Point } from '../../base/point.ts';
import { buildPlanNetwork } from '../../derive/network/index.ts';
import { UnionFind } from '../../derive/network/union-find.ts';
import type { Plan, Run } from '../../plan/records.ts';
import type { PointStart } from './choices.ts';

/** Where new tubing may begin, and the tubing that is there already. */
export interface Sources {
  /** A control set, valve or chosen place; `null` where there is none. */
  readonly at: Point | null;
  /** What stands at `at`, for people; `null` for a place. */
  readonly name: string | null;
  /** Whether it is a control set, with filter and regulator. */
  readonly isControl: boolean;
  /** Blank runs that the start feeds already. */
  readonly runs: readonly Run[];
}

const isReal = (p: Point): boolean => Number.isFinite(p[0]) && Number.isFinite(p[1]);

/**
 * Where tubing to some places begins. By itself: at the control set that is nearest to the middle of them, else at the
 * nearest tie-in, else at the nearest valve. Blank tubing that hangs on the start already may be used too; without any control
 * set that is all blank tubing.
 */
export function sourcesFor(plan: Plan, start: PointStart, targets: readonly Point[]): Sources {
  const middle: Point = [
    targets.reduce((sum, [x]) => sum + x, 0) / Math.max(1, targets.length),
    targets.reduce((sum, [, y]) => sum + y, 0) / Math.max(1, targets.length),
  ];
  const nearest = <T extends { readonly id: string; readonly at: Point }>(list: Iterable<T>): T | null => {
    let best: T | null = null;
    for (const one of list) {
      if (isReal(one.at) && (!best || distance(one.at, middle) < distance(best.at, middle))) best = one;
    }
    return best;
  };
  const blanks = [...plan.runs].filter(
    ({ inline, path }) =>
      inline === null &&
      path.length >= 2 &&
      path.every(isReal) &&
      distance(path[0]!, path.at(-1)!) + path.length > 2,
  );
  const named = (one: { readonly id: string; readonly name: string }): string => one.name.trim() || one.id;
  if (start.kind === 'place') {
    return {
      at: isReal(start.at) ? start.at : null,
      name: null,
      isControl: false,
      runs: fedBy(plan, blanks, null),
    };
  }
  if (start.kind === 'supply') {
    const supply = plan.supplies.get(start.id);
    return { at: supply?.at ?? null, name: supply ? named(supply) : null, isControl: false, runs: [] };
  }
  const control = start.kind === 'control' ? (plan.controls.get(start.id) ?? null) : nearest(plan.controls);
  if (control) {
    const only = start.kind === 'control' ? [control.id] : [...plan.controls].map(({ id }) => id);
    return { at: control.at, name: named(control), isControl: true, runs: fedBy(plan, blanks, only) };
  }
  const tieIn = nearest([...plan.heads].filter(({ fate }) => fate === 'tie-in'));
  if (tieIn) return { at: tieIn.at, name: tieIn.id, isControl: false, runs: fedBy(plan, blanks, null) };
  const supply = nearest(plan.supplies);
  return {
    at: supply?.at ?? null,
    name: supply ? named(supply) : null,
    isControl: false,
    runs: fedBy(plan, blanks, null),
  };
}

/** Names of the control sets that feed a blank run. */
export function controlsFeeding(plan: Plan, run: Run): readonly string[] {
  return [...plan.controls]
    .filter(({ id }) => fedBy(plan, [run], [id]).length > 0)
    .map(({ id, name }) => name.trim() || id);
}

/** Blank runs joined to the outlet of one of the control sets, without passing another; all where none is named. */
function fedBy(plan: Plan, blanks: readonly Run[], controls: readonly string[] | null): readonly Run[] {
  if (controls === null || blanks.length === 0) return blanks;
  const { network, pieces, parts, runNodes } = buildPlanNetwork(plan);
  const groups = new UnionFind(network.nodes.count);
  for (let link = 0; link < network.links.count; link++) {
    const owner = pieces[link]?.owner.table;
    if (owner === 'controls' || owner === 'supplies') continue;
    groups.join(network.links.from[link]!, network.links.to[link]!);
  }
  const fed = new Set(
    parts.controls.filter(({ id }) => controls.includes(id)).map(({ outlet }) => groups.root(outlet)),
  );
  return blanks.filter(({ id }) => runNodes.get(id)?.some((node) => fed.has(groups.root(node))) ?? false);
}
