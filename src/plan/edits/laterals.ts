import { nearestOnSegment } from '../../base/polyline.ts';
import { between, distance, type Path, type Point } from '../../base/point.ts';
import { ONE_JOINT_M, STANDS_ON_M, zonesAgree } from '../joining.ts';
import type { LateralPipe, Plan } from '../records.ts';
import type { Edit } from './edit.ts';
import { freshIds } from './ids.ts';
import {
  endsOf,
  freshJoints,
  jointOf,
  settled,
  stationAt,
  withEnds,
  withEndsShifted,
  type PipeEnd,
} from './lateral-ends.ts';

/** What is known of a piece of old pipe besides where it lies. */
export type LateralFields = Omit<LateralPipe, 'id' | 'from' | 'to' | 'a' | 'b'>;

/** Shortest piece of pipe that is kept, metres: the ends of a shorter one would be one joint. */
const SHORTEST_M = ONE_JOINT_M;

interface Joint {
  readonly at: Point;
  readonly name: string;
}

/** The plan with a pipe cut in two at a joint; both parts keep what is known of it, the first its id. */
function cutAt(plan: Plan, pipe: LateralPipe, joint: Joint): Plan {
  const [id] = freshIds(plan, 'laterals');
  return {
    ...plan,
    laterals: plan.laterals.with(
      { ...pipe, b: joint.at, to: joint.name },
      { ...pipe, id: id!, a: joint.at, from: joint.name },
    ),
  };
}

/**
 * The joint at a place, in this order: the end of an old pipe (within 5 cm), a supply or head (within half a foot), a
 * tee on the middle of an old pipe (within half a foot), which is cut there, or a new joint. A pipe that ends at
 * `besides` is not cut: a bend beside a joint is no tee on what leaves it.
 */
function jointAt(
  plan: Plan,
  at: Point,
  zone: string | null,
  fresh: () => string,
  besides: string | null,
): { plan: Plan; joint: Joint } {
  const atEnd = (place: Point): { plan: Plan; joint: Joint } | null => {
    let best: { far: number; end: ReturnType<typeof jointOf>[number] } | null = null;
    for (const end of endsOf(plan.laterals)) {
      const far = distance(end.at, place);
      if (far > ONE_JOINT_M || !zonesAgree(end.pipe.zone, zone) || (best && far >= best.far)) continue;
      best = { far, end };
    }
    if (!best) return null;
    const { end } = best;
    if (end.name !== '') return { plan, joint: { at: end.at, name: end.name } };
    const name = stationAt(plan, end.at, zone)?.name ?? fresh();
    const nameless = jointOf(plan, end).filter((other) => other.name === '');
    const laterals = withEnds(
      plan.laterals,
      nameless.map((other) => ({ ...other, name })),
    );
    return { plan: { ...plan, laterals }, joint: { at: end.at, name } };
  };
  const found = atEnd(at);
  if (found) return found;
  const station = stationAt(plan, at, zone);
  const place = station?.at ?? at;
  // Pipe that is joined at the head or supply already says where: it may lie a hand beside it.
  const known = station && jointNamed(plan, station.name, zone);
  if (known) return { plan, joint: known };
  const atStation = station && atEnd(place);
  if (atStation) return atStation;

  let tee: { far: number; pipe: LateralPipe; foot: Point } | null = null;
  for (const pipe of plan.laterals) {
    if (!zonesAgree(pipe.zone, zone) || (besides !== null && (pipe.from === besides || pipe.to === besides)))
      continue;
    const near = nearestOnSegment(pipe.a, pipe.b, place);
    const inside = distance(near.point, pipe.a) > ONE_JOINT_M && distance(near.point, pipe.b) > ONE_JOINT_M;
    if (inside && near.distance <= STANDS_ON_M && (!tee || near.distance < tee.far))
      tee = { far: near.distance, pipe, foot: near.point };
  }
  if (!tee) return { plan, joint: { at: place, name: station?.name ?? fresh() } };
  const met = atEnd(tee.foot);
  if (met) return met;
  const joint: Joint = { at: tee.foot, name: station?.name ?? fresh() };
  return { plan: cutAt(plan, tee.pipe, joint), joint };
}

function jointNamed(plan: Plan, name: string, zone: string | null): Joint | null {
  const end = [...endsOf(plan.laterals)].find((one) => one.name === name && zonesAgree(one.pipe.zone, zone));
  return end ? { name, at: end.at } : null;
}

/** Whether a pipe of the zone joins two joints already. */
function joined(plan: Plan, from: Joint, to: Joint, zone: string | null): boolean {
  const same = (p: Point, q: Point) => distance(p, q) <= ONE_JOINT_M;
  return [...plan.laterals].some(
    ({ a, b, zone: other }) =>
      zonesAgree(other, zone) &&
      ((same(a, from.at) && same(b, to.at)) || (same(a, to.at) && same(b, from.at))),
  );
}

/** Joints of old pipes that lie on the way between two others, in order. */
function jointsBetween(plan: Plan, from: Joint, to: Joint, zone: string | null): Joint[] {
  const found = new Map<string, Joint & { readonly t: number }>();
  for (const { at, name, pipe } of endsOf(plan.laterals)) {
    if (name === '' || name === from.name || name === to.name || !zonesAgree(pipe.zone, zone)) continue;
    const near = nearestOnSegment(from.at, to.at, at);
    if (near.distance <= ONE_JOINT_M && near.t > 0 && near.t < 1) found.set(name, { at, name, t: near.t });
  }
  return [...found.values()].sort((a, b) => a.t - b.t);
}

/** The zone of what a chain begins at, where it has one: its supply's, or an old pipe's. */
function zoneAt(plan: Plan, at: Point): string | null {
  const station = stationAt(plan, at, null);
  const near = [...endsOf(plan.laterals)].find((end) => distance(end.at, at) <= ONE_JOINT_M)?.pipe;
  const crossed = [...plan.laterals].find(({ a, b }) => nearestOnSegment(a, b, at).distance <= STANDS_ON_M);
  const standing = station ? (plan.supplies.get(station.name) ?? plan.heads.get(station.name)) : undefined;
  return standing?.zone ?? near?.zone ?? crossed?.zone ?? null;
}

/**
 * Adds old pipe along a path, one piece for each straight part. Ends are named by what stands there: an end of an old
 * pipe, a supply, a head, else a new joint `N1`, `N2` ...; an old pipe on whose middle a piece begins or ends is cut
 * there, and so is a new piece on whose middle an old one ends (tees). Parts without length, and parts that lie where
 * a pipe of the zone joins the same two places already, are left out. Without a zone the pieces take that of what they
 * begin at.
 * @param path places in plan, metres; fewer than two change nothing
 */
export function addLaterals(label: string, path: Path, fields: LateralFields): Edit {
  return {
    label,
    apply: (before) => {
      const first = path[0];
      if (!first || path.length < 2 || !path.every((p) => p.every(Number.isFinite))) return before;
      const zone = fields.zone ?? zoneAt(before, first);
      const fresh = freshJoints(before);
      let { plan, joint: from } = jointAt(before, first, zone, fresh, null);
      let made = 0;
      for (const place of path.slice(1)) {
        const next = jointAt(plan, place, zone, fresh, from.name);
        plan = next.plan;
        const to = next.joint;
        const chain = [from, ...jointsBetween(plan, from, to, zone), to];
        for (let i = 1; i < chain.length; i++) {
          const [a, b] = [chain[i - 1]!, chain[i]!];
          if (distance(a.at, b.at) < SHORTEST_M || joined(plan, a, b, zone)) continue;
          const [id] = freshIds(plan, 'laterals');
          const piece: LateralPipe = { ...fields, zone, id: id!, from: a.name, to: b.name, a: a.at, b: b.at };
          plan = { ...plan, laterals: plan.laterals.with(piece) };
          made++;
        }
        from = to;
      }
      return made ? plan : before;
    },
  };
}

/**
 * Cuts an old pipe in two at the place on it nearest to `at`, named by the pipe's end, head or supply there, or as a
 * new joint.
 * Both parts keep what is known of the pipe; at its ends, and for an unknown id, nothing changes.
 */
export function splitLateral(label: string, id: string, at: Point): Edit {
  return {
    label,
    apply: (plan) => {
      const pipe = plan.laterals.get(id);
      if (!pipe) return plan;
      const { point } = nearestOnSegment(pipe.a, pipe.b, at);
      if (Math.min(distance(point, pipe.a), distance(point, pipe.b)) <= SHORTEST_M) return plan;
      const met = [...endsOf(plan.laterals)].find(
        (end) =>
          end.name !== '' && zonesAgree(end.pipe.zone, pipe.zone) && distance(end.at, point) <= ONE_JOINT_M,
      );
      if (met) return cutAt(plan, pipe, met);
      const standing = stationAt(plan, point, pipe.zone)?.name;
      // A head that pipe is joined to beside the cut does not stand at the cut.
      const taken = standing !== undefined && jointNamed(plan, standing, pipe.zone) !== null;
      const name = (taken ? undefined : standing) ?? freshJoints(plan)();
      return cutAt(plan, pipe, { at: point, name });
    },
  };
}

/**
 * Moves one end of an old pipe; what is joined to it there goes along. On another pipe's end, a head or a supply it is
 * joined to that, on the middle of another pipe with a tee.
 */
export function moveLateralEnd(label: string, id: string, end: PipeEnd, to: Point): Edit {
  return {
    label,
    apply: (plan) => {
      const pipe = plan.laterals.get(id);
      if (!pipe) return plan;
      const own = [...endsOf([pipe])].find((one) => one.end === end)!;
      const moving = jointOf(plan, own);
      // What stays decides what is at the new place.
      const stay = new Set(moving.map((one) => one.pipe.id));
      const rest = { ...plan, laterals: plan.laterals.without(stay) };
      const other = end === 'a' ? pipe.b : pipe.a;
      const fresh = freshJoints(plan);
      const found = jointAt(rest, to, pipe.zone, fresh, null);
      const target = found.joint.at;
      const [dx, dy] = [target[0] - own.at[0], target[1] - own.at[1]];
      if ((dx === 0 && dy === 0) || distance(target, other) < SHORTEST_M) return plan;
      const cut = [...found.plan.laterals].filter((one) => rest.laterals.get(one.id) !== one);
      const freed = withFreeIds(plan, rest, cut);
      const withTee = freed.length ? { ...plan, laterals: plan.laterals.with(...freed) } : plan;
      const shiftedPlan = withEndsShifted(withTee, moving, dx, dy);
      const kept = [...shiftedPlan.laterals].filter(({ a, b }) => distance(a, b) >= SHORTEST_M);
      if (kept.length < shiftedPlan.laterals.size) return plan;
      return settled(shiftedPlan, moving);
    },
  };
}

/** Pipes cut in `rest`, a plan without some pipes of `plan`, with ids that none of those has. */
function withFreeIds(plan: Plan, rest: Plan, cut: readonly LateralPipe[]): LateralPipe[] {
  return cut.map((pipe) =>
    rest.laterals.has(pipe.id) ? pipe : { ...pipe, id: freshIds(plan, 'laterals')[0]! },
  );
}

/** Bends an old pipe: cuts it at the place nearest to `to` and moves the new joint there. */
export function bendLateral(label: string, id: string, to: Point): Edit {
  return {
    label,
    apply: (plan) => {
      const pipe = plan.laterals.get(id);
      if (!pipe || Math.min(distance(to, pipe.a), distance(to, pipe.b)) < SHORTEST_M) return plan;
      const { point } = nearestOnSegment(pipe.a, pipe.b, to);
      const free = Math.min(distance(point, pipe.a), distance(point, pipe.b)) > SHORTEST_M;
      const middle = free ? point : between(pipe.a, pipe.b, 0.5);
      if (distance(middle, pipe.a) <= SHORTEST_M) return plan;
      const parted = cutAt(plan, pipe, { at: middle, name: freshJoints(plan)() });
      if (distance(middle, to) < 1e-6) return parted;
      return moveLateralEnd(label, id, 'b', to).apply(parted);
    },
  };
}
