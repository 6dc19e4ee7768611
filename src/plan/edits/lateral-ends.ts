import { nearestOnSegment } from '../../base/polyline.ts';
import { distance, shifted, type Point } from '../../base/point.ts';
import type { Table } from '../../base/table.ts';
import { ONE_JOINT_M, STANDS_ON_M, zonesAgree } from '../joining.ts';
import type { LateralPipe, Plan } from '../records.ts';

const NONE: ReadonlySet<string> = new Set();

export type PipeEnd = 'a' | 'b';
const NAME_OF = { a: 'from', b: 'to' } as const;
export const PIPE_ENDS: readonly PipeEnd[] = ['a', 'b'];

/** One end of an old pipe. */
export interface LateralEnd {
  readonly pipe: LateralPipe;
  readonly end: PipeEnd;
  readonly at: Point;
  /** Name of the joint; may be empty in plans from elsewhere. */
  readonly name: string;
}

export const endKey = ({ pipe, end }: Pick<LateralEnd, 'pipe' | 'end'>): string => `${end} ${pipe.id}`;

export function* endsOf(laterals: Iterable<LateralPipe>): Generator<LateralEnd> {
  for (const pipe of laterals) {
    yield { pipe, end: 'a', at: pipe.a, name: pipe.from.trim() };
    yield { pipe, end: 'b', at: pipe.b, name: pipe.to.trim() };
  }
}

/** Joint names `N1`, `N2` ... that nothing in the plan has. */
export function freshJoints(plan: Plan): () => string {
  let highest = 0;
  const note = (name: string): void => {
    const number = /^N(\d{1,9})$/.exec(name.trim())?.[1];
    if (number !== undefined) highest = Math.max(highest, Number(number));
  };
  for (const { from, to } of plan.laterals) {
    note(from);
    note(to);
  }
  for (const table of [plan.heads, plan.supplies]) for (const { id } of table) note(id);
  return () => `N${++highest}`;
}

/** The laterals with some ends at another place or under another name. */
export function withEnds(
  laterals: Table<LateralPipe>,
  ends: readonly {
    readonly pipe: LateralPipe;
    readonly end: PipeEnd;
    readonly at?: Point;
    readonly name?: string;
  }[],
): Table<LateralPipe> {
  const changed = new Map<string, LateralPipe>();
  for (const { pipe, end, at, name } of ends) {
    const now = changed.get(pipe.id) ?? laterals.get(pipe.id);
    if (!now) continue;
    changed.set(pipe.id, {
      ...now,
      ...(at && { [end]: at }),
      ...(name !== undefined && { [NAME_OF[end]]: name }),
    });
  }
  return changed.size ? laterals.with(...changed.values()) : laterals;
}

/** What stands at a place: a supply or head of the zone, the nearest within half a foot, but for those named. */
export function stationAt(
  plan: Plan,
  at: Point,
  zone: string | null,
  but: ReadonlySet<string> = NONE,
): { name: string; at: Point } | null {
  let best: { name: string; at: Point } | null = null;
  let bestScore = Infinity;
  // At one place a supply goes before a head, and one of the same zone before one without.
  for (const [rank, table] of [plan.supplies, plan.heads].entries()) {
    for (const station of table) {
      const far = distance(station.at, at);
      if (far > STANDS_ON_M || but.has(station.id) || !zonesAgree(station.zone, zone)) continue;
      const score = far + rank * 1e-6 + (station.zone === zone ? 0 : 1e-7);
      if (score < bestScore) {
        best = { name: station.id, at: station.at };
        bestScore = score;
      }
    }
  }
  return best;
}

/** The ends that belong to one joint with `end`: at its place, or under its name, in zones that agree. */
export function jointOf(plan: Plan, end: LateralEnd): LateralEnd[] {
  return [...endsOf(plan.laterals)].filter(
    (other) =>
      zonesAgree(other.pipe.zone, end.pipe.zone) &&
      (distance(other.at, end.at) <= ONE_JOINT_M || (end.name !== '' && other.name === end.name)),
  );
}

/** Things that move by (dx, dy), as far as old pipes are joined to them. */
export interface Moved {
  readonly pipes: ReadonlySet<string>;
  /** Ids of heads and supplies. */
  readonly stations: ReadonlySet<string>;
}

/**
 * Ends of old pipes that go along when pipes, heads and supplies move: those of the pipes themselves, and what is
 * joined to them or lies on them.
 */
export function endsThatFollow(plan: Plan, { pipes, stations }: Moved): LateralEnd[] {
  if (!pipes.size && !stations.size) return [];
  const own: LateralEnd[] = [];
  const others: LateralEnd[] = [];
  for (const end of endsOf(plan.laterals)) (pipes.has(end.pipe.id) ? own : others).push(end);
  const places: { at: Point; name: string; zone: string | null }[] = own.map(({ at, name, pipe }) => ({
    at,
    name,
    zone: pipe.zone,
  }));
  for (const id of stations) {
    const station = plan.supplies.get(id) ?? plan.heads.get(id);
    if (station) places.push({ at: station.at, name: id, zone: station.zone });
  }
  const moving = [...pipes].flatMap((id) => plan.laterals.get(id) ?? []);
  return [
    ...own,
    ...others.filter(
      ({ at, name, pipe }) =>
        places.some(
          (place) =>
            zonesAgree(place.zone, pipe.zone) &&
            ((name !== '' && name === place.name) || distance(place.at, at) <= ONE_JOINT_M),
        ) ||
        moving.some(
          ({ a, b, zone }) =>
            zonesAgree(zone, pipe.zone) && nearestOnSegment(a, b, at).distance <= ONE_JOINT_M,
        ),
    ),
  ];
}

interface Settling {
  readonly pipe: LateralPipe;
  readonly end: PipeEnd;
  readonly at: Point;
  readonly moved: boolean;
  name: string;
}

/** Ends by the cell of half a foot that they lie in, so that neighbours are found without looking at all. */
function neighbours(ends: readonly Settling[]): (at: Point) => Settling[] {
  const cell = (v: number) => Math.floor(v / STANDS_ON_M);
  const cells = new Map<string, Settling[]>();
  for (const end of ends) {
    const key = `${cell(end.at[0])} ${cell(end.at[1])}`;
    const list = cells.get(key);
    if (list) list.push(end);
    else cells.set(key, [end]);
  }
  return (at) => {
    const near: Settling[] = [];
    for (const dx of [-1, 0, 1]) {
      for (const dy of [-1, 0, 1]) near.push(...(cells.get(`${cell(at[0]) + dx} ${cell(at[1]) + dy}`) ?? []));
    }
    return near.filter((end) => distance(end.at, at) <= ONE_JOINT_M);
  };
}

/**
 * Gives ends that have moved the name of what is at their new place, so that a joint has one name and an end is never
 * called after a head or supply that it has left. `after` is the plan with the ends and everything else in place,
 * `along` the heads and supplies that moved together with them.
 */
export function settled(after: Plan, moved: readonly LateralEnd[], along: ReadonlySet<string> = NONE): Plan {
  if (!moved.length) return after;
  const keys = new Set(moved.map(endKey));
  const ends = [...endsOf(after.laterals)].map((end): Settling => ({
    ...end,
    moved: keys.has(endKey(end)),
  }));
  const near = neighbours(ends);
  const byName = new Map<string, Settling[]>();
  for (const end of ends) {
    const list = byName.get(end.name);
    if (list) list.push(end);
    else byName.set(end.name, [end]);
  }
  const fresh = freshJoints(after);
  const done = new Set<Settling>();
  const renamed = new Set<Settling>();
  for (const self of ends) {
    if (!self.moved || done.has(self)) continue;
    const agrees = (other: Settling) => zonesAgree(other.pipe.zone, self.pipe.zone);
    const here = near(self.at).filter(agrees);
    const alike = self.name === '' ? [] : (byName.get(self.name) ?? []).filter(agrees);
    const joint = [...new Set([self, ...here, ...alike])].filter((other) => other.moved);
    for (const other of joint) done.add(other);
    const station = after.supplies.get(self.name) ?? after.heads.get(self.name);
    const keeps =
      station !== undefined && (along.has(self.name) || distance(station.at, self.at) <= STANDS_ON_M);
    const met = here.find((other) => !other.moved && other.name !== '')?.name;
    const lost = self.name === '' || station !== undefined;
    const standing = stationAt(after, self.at, self.pipe.zone, along)?.name;
    // Pipe that is joined to it elsewhere goes by its name already.
    const free = !ends.some(
      (other) => other.name === standing && agrees(other) && distance(other.at, self.at) > ONE_JOINT_M,
    );
    const name = keeps ? self.name : (met ?? (free ? standing : undefined) ?? (lost ? fresh() : self.name));
    // Ends that stayed keep their name unless a head or supply was brought to them.
    for (const other of keeps ? [...joint, ...here] : joint) {
      if (other.name === name) continue;
      other.name = name;
      renamed.add(other);
    }
  }
  if (!renamed.size) return after;
  const names = [...renamed].map(({ pipe, end, name }) => ({ pipe, end, name }));
  return { ...after, laterals: withEnds(after.laterals, names) };
}

/** `ends` shifted by (dx, dy) in a plan in which nothing else of the laterals has moved. */
export function withEndsShifted(plan: Plan, ends: readonly LateralEnd[], dx: number, dy: number): Plan {
  if (!ends.length) return plan;
  const moved = ends.map(({ pipe, end, at }) => ({ pipe, end, at: shifted(at, dx, dy) }));
  return { ...plan, laterals: withEnds(plan.laterals, moved) };
}

/**
 * Gives the ends of copied pipes joints of their own: those of a head or supply that was copied too, else new ones.
 * @param renamed new ids by `table/id` of what was copied
 */
export function withOwnJoints(
  plan: Plan,
  copies: ReadonlySet<string>,
  renamed: ReadonlyMap<string, string>,
): Plan {
  if (!copies.size) return plan;
  const fresh = freshJoints(plan);
  const names = new Map<string, string>();
  const made = [...endsOf(plan.laterals)].filter(({ pipe }) => copies.has(pipe.id));
  const named = made.map((end) => {
    if (end.name === '') return end;
    const name =
      names.get(end.name) ??
      renamed.get(`supplies/${end.name}`) ??
      renamed.get(`heads/${end.name}`) ??
      fresh();
    names.set(end.name, name);
    return { ...end, name };
  });
  const next = {
    ...plan,
    laterals: withEnds(
      plan.laterals,
      named.map(({ pipe, end, name }) => ({ pipe, end, name })),
    ),
  };
  const along = new Set(
    [...names.values()].filter((name) => next.supplies.has(name) || next.heads.has(name)),
  );
  return settled(next, named, along);
}
