import type { Path, Point } from '../../base/point.ts';
import type { Area, Plan, Run } from '../records.ts';
import { carryAttached, carryRunEnds, pathCarrier } from './attached.ts';
import type { Edit } from './edit.ts';
import { bendLateral, moveLateralEnd } from './laterals.ts';

/**
 * Names one vertex: ring 0 is an area's outline, 1.. its holes; runs, and old pipes and falls with their two ends, have
 * ring 0 only.
 */
export interface VertexRef {
  readonly table: 'areas' | 'runs' | 'laterals' | 'falls';
  readonly id: string;
  readonly ring: number;
  readonly index: number;
}

/** Fewest vertices that a ring or a path can have. */
export const FEWEST = { areas: 3, runs: 2, laterals: 2, falls: 2 } as const;

/** The ring or path that a vertex belongs to. */
export function ringOf(plan: Plan, ref: Omit<VertexRef, 'index'>): Path | null {
  if (ref.table === 'runs') return plan.runs.get(ref.id)?.path ?? null;
  if (ref.table === 'laterals') {
    const pipe = plan.laterals.get(ref.id);
    return pipe ? [pipe.a, pipe.b] : null;
  }
  if (ref.table === 'falls') {
    const fall = plan.falls.get(ref.id);
    return fall ? [fall.from, fall.to] : null;
  }
  const area = plan.areas.get(ref.id);
  if (!area) return null;
  return ref.ring === 0 ? area.outline : (area.holes[ref.ring - 1] ?? null);
}

function withAreaRing(plan: Plan, area: Area, ring: number, points: Path): Plan {
  const next =
    ring === 0
      ? { ...area, outline: points }
      : { ...area, holes: area.holes.map((hole, i) => (i === ring - 1 ? points : hole)) };
  return { ...plan, areas: plan.areas.with(next) };
}

function withRunPath(plan: Plan, run: Run, path: Path): Plan {
  const next = { ...run, path };
  const placed = { ...plan, runs: plan.runs.with(next) };
  const carried =
    path.length === run.path.length
      ? carryRunEnds(placed, [pathCarrier(run.path, path)], new Set([run.id]))
      : placed;
  return carryAttached(carried, run, next, new Set());
}

/** Replaces the ring or path, keeping what hangs on a run. */
function withRing(plan: Plan, ref: Omit<VertexRef, 'index'>, points: Path): Plan {
  if (ref.table === 'runs') {
    const run = plan.runs.get(ref.id);
    return run ? withRunPath(plan, run, points) : plan;
  }
  if (ref.table === 'falls') {
    const fall = plan.falls.get(ref.id);
    const [from, to] = points;
    // A fall is straight: it takes no corner.
    return fall && from && to && points.length === 2
      ? { ...plan, falls: plan.falls.with({ ...fall, from, to }) }
      : plan;
  }
  const area = plan.areas.get(ref.id);
  return area ? withAreaRing(plan, area, ref.ring, points) : plan;
}

/** Moves a vertex; both ends of a closed run (first and last at one place) go together. */
export function moveVertex(label: string, ref: VertexRef, to: Point): Edit {
  if (ref.table === 'laterals') return moveLateralEnd(label, ref.id, ref.index === 0 ? 'a' : 'b', to);
  return {
    label,
    apply: (plan) => {
      const ring = ringOf(plan, ref);
      if (!ring?.[ref.index]) return plan;
      const last = ring.length - 1;
      const closedRun =
        ref.table === 'runs' && last > 1 && ring[0]![0] === ring[last]![0] && ring[0]![1] === ring[last]![1];
      const twin = closedRun && ref.index === 0 ? last : closedRun && ref.index === last ? 0 : ref.index;
      return withRing(
        plan,
        ref,
        ring.map((p, i) => (i === ref.index || i === twin ? to : p)),
      );
    },
  };
}

/** Puts a vertex in before `ref.index`; an old pipe becomes two pieces with a joint there. */
export function insertVertex(label: string, ref: VertexRef, at: Point): Edit {
  if (ref.table === 'laterals') return bendLateral(label, ref.id, at);
  return {
    label,
    apply: (plan) => {
      const ring = ringOf(plan, ref);
      return ring ? withRing(plan, ref, [...ring.slice(0, ref.index), at, ...ring.slice(ref.index)]) : plan;
    },
  };
}

/** Takes a vertex out; a ring or path at its fewest vertices stays as it is. */
export function deleteVertex(label: string, ref: VertexRef): Edit {
  return {
    label,
    apply: (plan) => {
      const ring = ringOf(plan, ref);
      if (!ring || ring.length <= FEWEST[ref.table]) return plan;
      return withRing(
        plan,
        ref,
        ring.filter((_, i) => i !== ref.index),
      );
    },
  };
}
