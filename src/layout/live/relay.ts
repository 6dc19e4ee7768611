import { boxHas, boxOf, distance, type Path, type Point } from '../../base/point.ts';
import { nearestOnPath, pathLength, pointAlong } from '../../base/polyline.ts';
import { carryRunEnds, freshIds } from '../../plan/edits/index.ts';
import { JOINT_TOLERANCE_M, ON_TUBING_M } from '../../plan/joining.ts';
import type { CheckValve, Fill, FlushEnd, LinePart, Plan, PointEmitter, Run } from '../../plan/records.ts';
import type { LedFill } from './lay.ts';
import { sameRun } from './changes.ts';
import { isOn, runsOf } from './places.ts';
import { matchedRuns, namedAlike } from './match.ts';

/**
 * The plan with the runs of a fill replaced by those that were laid anew. Runs keep their ids and names where there are
 * as many; flush ends, check valves, line parts and emitters stay on the nearest of them, and run ends of others that
 * were joined to the old runs go along. Records that come out the same stay the same objects.
 */
export function relaid(plan: Plan, fill: Fill, laid: LedFill, wantsLead: boolean): Plan {
  const old = runsOf(plan, fill);
  const fresh = namedAlike(plan, old, laid.runs);
  const matched = matchedRuns(old, fresh);
  const needed = matched.filter((run) => run === null).length;
  const newIds = needed > 0 ? freshIds(plan, 'runs', needed) : [];
  const runs = fresh.map((run, i): Run => {
    const kept = matched[i];
    if (!kept) return { ...run, id: newIds.shift()! };
    return sameRun(kept.run, run) && kept.name === kept.run.name
      ? kept.run
      : { ...run, id: kept.run.id, name: kept.name };
  });
  const ids = new Set(runs.map(({ id }) => id));
  const changed = runs.filter((run) => plan.runs.get(run.id) !== run);
  const gone = old.filter(({ id }) => !ids.has(id)).map(({ id }) => id);
  const leadCount = laid.leads.runs.length;
  const runIds = runs.map(({ id }) => id);
  const leadIds = wantsLead ? runIds.slice(runIds.length - leadCount) : undefined;

  let next: Plan = withFill(plan, fill, runIds, leadIds);
  if (changed.length === 0 && gone.length === 0) return withFlushEnds(next, old, runs, laid.flushEnds);
  next = { ...next, runs: next.runs.without(gone).with(...changed) };
  next = withParts(next, old, runs, reachOf(fill));
  next = withFlushEnds(next, old, runs, laid.flushEnds);
  return withJoinedEnds(plan, next, fill, old, runs);
}

/** How far a part may be from the new rows and still be meant to sit where it is, metres. */
function reachOf({ choices }: Fill): number {
  return 'rowSpacingM' in choices ? choices.rowSpacingM : (choices.ringSpacingM ?? 1);
}

function withFill(
  plan: Plan,
  fill: Fill,
  runIds: readonly string[],
  leadIds: readonly string[] | undefined,
): Plan {
  const same = (a: readonly string[] | undefined, b: readonly string[] | undefined): boolean =>
    a === b ||
    (a !== undefined && b !== undefined && a.length === b.length && a.every((id, i) => id === b[i]));
  if (same(fill.runIds, runIds) && same(fill.leadIds, leadIds)) return plan;
  const { leadIds: _, ...rest } = fill;
  const next = { ...rest, runIds, ...(leadIds && { leadIds }) } as Fill;
  return { ...plan, fills: plan.fills.with(next) };
}

/** What sat on the old runs sits on the new ones: near to where it was, else as far along the run of the same id. */
function withParts(plan: Plan, old: readonly Run[], runs: readonly Run[], reachM: number): Plan {
  const was = new Map(old.map((run) => [run.id, run]));
  const now = new Map(runs.map((run) => [run.id, run]));
  const blanks = runs.filter(({ inline }) => inline === null);
  const placed = (runId: string, at: Point, among: readonly Run[]): { run: Run; at: Point } | null => {
    const near = nearestRun(among, at);
    if (!near) return null;
    const [before, after] = [was.get(runId), now.get(runId)];
    if (near.far <= reachM || !before || !after) return { run: near.run, at: near.point };
    const share = nearestOnPath(before.path, at).along / Math.max(pathLength(before.path), 1e-9);
    return { run: after, at: pointAlong(after.path, share * pathLength(after.path)) };
  };
  const moved = <T extends CheckValve | LinePart>(table: Iterable<T>): T[] =>
    [...table].flatMap((part): T[] => {
      const on = was.get(part.runId);
      if (!on) return [];
      const kind = runs.filter(({ inline }) => (inline === null) === (on.inline === null));
      const to = placed(part.runId, part.at, kind.length ? kind : runs);
      return to && (to.run.id !== part.runId || distance(to.at, part.at) > 1e-9)
        ? [{ ...part, runId: to.run.id, at: to.at }]
        : [];
    });
  const valves = moved(plan.checkValves);
  const parts = moved(plan.lineParts);
  const emitters = [...plan.emitters].flatMap((emitter): PointEmitter[] => {
    const on = was.get(emitter.runId);
    if (!on) return [];
    // An emitter beside the tubing keeps its place and gets another feeder.
    const isOnTubing = nearestOnPath(on.path, emitter.at).distance <= ON_TUBING_M;
    const to = placed(emitter.runId, emitter.at, blanks.length ? blanks : runs);
    if (!to) return [];
    const at = isOnTubing ? to.at : emitter.at;
    return to.run.id !== emitter.runId || distance(at, emitter.at) > 1e-9
      ? [{ ...emitter, runId: to.run.id, at }]
      : [];
  });
  return {
    ...plan,
    ...(valves.length && { checkValves: plan.checkValves.with(...valves) }),
    ...(parts.length && { lineParts: plan.lineParts.with(...parts) }),
    ...(emitters.length && { emitters: plan.emitters.with(...emitters) }),
  };
}

/**
 * Flush ends where the fill has them, under the ids of the ones before. One that the person set stays where its end of
 * run is still free.
 */
function withFlushEnds(
  plan: Plan,
  old: readonly Run[],
  runs: readonly Run[],
  laid: LedFill['flushEnds'],
): Plan {
  const was = new Set(old.map(({ id }) => id));
  const now = new Map(runs.map((run) => [run.id, run]));
  const key = (runId: string, end: FlushEnd['end']): string => `${runId}/${end}`;
  const wanted = new Map(
    laid.map(({ run, end }) => [key(runs[run]!.id, end), { runId: runs[run]!.id, end }]),
  );
  const opened = new Set(wanted.keys());
  const loose: FlushEnd[] = [];
  for (const flush of plan.flushEnds) {
    if (!was.has(flush.runId) && !now.has(flush.runId)) continue;
    if (!wanted.delete(key(flush.runId, flush.end))) loose.push(flush);
  }
  const isFree = ({ runId, end }: FlushEnd): boolean => {
    const run = now.get(runId);
    const at = run && (end === 'start' ? run.path[0] : run.path.at(-1));
    if (!run || at === undefined || runs.some((other) => other !== run && isOn(other.path, at))) return false;
    // Both ends of a closed run are one place, which is opened once.
    const across = end === 'start' ? run.path.at(-1)! : run.path[0]!;
    const isClosed = run.path.length > 2 && distance(at, across) <= JOINT_TOLERANCE_M;
    return !(isClosed && opened.has(key(runId, end === 'start' ? 'end' : 'start')));
  };
  const spare = loose.filter((flush) => !isFree(flush));
  if (wanted.size === 0 && spare.length === 0) return plan;
  const missing = [...wanted.values()];
  const again = spare.slice(0, missing.length).map((flush, i): FlushEnd => ({ ...flush, ...missing[i]! }));
  const more = missing.slice(again.length);
  const ids = freshIds(plan, 'flushEnds', more.length);
  const fresh = more.map((end, i): FlushEnd => ({ id: ids[i]!, ...end }));
  return {
    ...plan,
    flushEnds: plan.flushEnds.without(spare.slice(again.length).map(({ id }) => id)).with(...again, ...fresh),
  };
}

/** Ends of runs that were joined to the old runs and are no part of the fill go where the new ones are. */
function withJoinedEnds(
  before: Plan,
  plan: Plan,
  fill: Fill,
  old: readonly Run[],
  runs: readonly Run[],
): Plan {
  const box = boxOf(old.flatMap(({ path }) => path));
  if (!box) return plan;
  const now = new Map(runs.map((run) => [run.id, run]));
  const places: { readonly at: Point; readonly to: Point }[] = [];
  let others: ReadonlySet<string> | null = null;
  for (const { id, path } of plan.runs) {
    for (const at of [path[0], path.at(-1)]) {
      if (!at || !boxHas(box, at, JOINT_TOLERANCE_M) || now.has(id)) continue;
      others ??= followersOf(before, fill);
      if (others.has(id)) continue;
      const to = goneTo(at, old, now, runs);
      if (to && distance(to, at) > 0) places.push({ at, to });
    }
  }
  if (places.length === 0) return plan;
  const carrier = (place: Point): Point | null =>
    places.find(({ at }) => at[0] === place[0] && at[1] === place[1])?.to ?? null;
  return carryRunEnds(plan, [carrier], new Set([...(others ?? []), ...now.keys()]));
}

/** Runs that are not carried along: those of a fill itself, and the rows of others, which follow what they are drawn for. */
function followersOf(plan: Plan, own: Fill): ReadonlySet<string> {
  return new Set(
    [...plan.fills].flatMap((fill) => {
      if (fill.id === own.id) return fill.runIds;
      // A lead may begin on that of another fill: there it keeps its joint.
      return fill.byHand ? [] : fill.runIds.filter((id) => !fill.leadIds?.includes(id));
    }),
  );
}

/** Where a place on the old runs has gone; `null` where it was on none of them. Ends go to ends, headers before rows. */
function goneTo(
  at: Point,
  old: readonly Run[],
  now: ReadonlyMap<string, Run>,
  runs: readonly Run[],
): Point | null {
  const on = old.filter(({ path }) => isOn(path, at));
  const isEnd = ({ path }: Run): boolean => ends(path).some((end) => distance(end, at) <= JOINT_TOLERANCE_M);
  const was =
    on.find((run) => !run.inline && isEnd(run)) ?? on.find(isEnd) ?? on.find((run) => !run.inline) ?? on[0];
  if (!was) return null;
  const run = now.get(was.id);
  if (!run) return nearestRun(runs, at)?.point ?? null;
  if (distance(was.path[0]!, at) <= JOINT_TOLERANCE_M) return run.path[0]!;
  if (distance(was.path.at(-1)!, at) <= JOINT_TOLERANCE_M) return run.path.at(-1)!;
  return nearestOnPath(run.path, at).point;
}

const ends = (path: Path): readonly Point[] => [path[0]!, path.at(-1)!];

function nearestRun(runs: readonly Run[], at: Point): { run: Run; point: Point; far: number } | null {
  let best: { run: Run; point: Point; far: number } | null = null;
  for (const run of runs) {
    const near = nearestOnPath(run.path, at);
    if (!best || near.distance < best.far) best = { run, point: near.point, far: near.distance };
  }
  return best;
}
