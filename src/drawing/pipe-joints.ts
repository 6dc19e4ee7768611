import { distance, type Point } from '../base/point.ts';
import type { Table } from '../base/table.ts';
import { ONE_JOINT_M } from '../plan/joining.ts';
import type { LateralPipe, Supply } from '../plan/records.ts';

/*
 * Which old pipes meet where, as far as their drawing needs it. The exact graph, with heads, heights and rings, is
 * derived elsewhere; here ends meet by name or place, as the eye would take it.
 */

/** A supply this near to a joint feeds it, metres. */
const FEEDS_M = 0.5;

type End = 'a' | 'b';

export interface PipeJoints {
  /** The other pipes at one end of a pipe. */
  at(pipe: LateralPipe, end: End): readonly LateralPipe[];
  /** The number of the joint at one end of a pipe. */
  number(pipe: LateralPipe, end: End): number;
}

const agree = (a: string | null, b: string | null) => a === null || b === null || a === b;

/** Joints of pipes: ends of one name, or in one place, in zones that agree. */
export function pipeJoints(pipes: readonly LateralPipe[]): PipeJoints {
  const ends = pipes.flatMap((pipe) =>
    (['a', 'b'] as const).map((end) => ({
      pipe,
      end,
      at: pipe[end],
      name: (end === 'a' ? pipe.from : pipe.to).trim(),
    })),
  );
  const parent = ends.map((_, i) => i);
  const root = (i: number): number => {
    let r = i;
    while (parent[r] !== r) r = parent[r]!;
    return r;
  };
  const cell = (v: number) => Math.floor(v / ONE_JOINT_M);
  const cells = new Map<string, number[]>();
  const named = new Map<string, number[]>();
  const keep = (map: Map<string, number[]>, key: string, i: number) => {
    const list = map.get(key);
    if (list) list.push(i);
    else map.set(key, [i]);
  };
  ends.forEach((end, i) => {
    const join = (others: readonly number[] | undefined, fits: (j: number) => boolean) => {
      for (const j of others ?? []) {
        if (agree(ends[j]!.pipe.zone, end.pipe.zone) && fits(j)) parent[root(i)] = root(j);
      }
    };
    if (end.name !== '') {
      join(named.get(end.name), () => true);
      keep(named, end.name, i);
    }
    const [x, y] = [cell(end.at[0]), cell(end.at[1])];
    for (let dx = -1; dx <= 1; dx++) {
      for (let dy = -1; dy <= 1; dy++) {
        join(cells.get(`${x + dx} ${y + dy}`), (j) => distance(ends[j]!.at, end.at) <= ONE_JOINT_M);
      }
    }
    keep(cells, `${x} ${y}`, i);
  });
  const members = new Map<number, LateralPipe[]>();
  const numbers = new Map<string, number>();
  ends.forEach(({ pipe, end }, i) => {
    const joint = root(i);
    numbers.set(`${end} ${pipe.id}`, joint);
    const list = members.get(joint);
    if (list) list.push(pipe);
    else members.set(joint, [pipe]);
  });
  const number: PipeJoints['number'] = (pipe, end) => numbers.get(`${end} ${pipe.id}`) ?? -1;
  return {
    number,
    at: (pipe, end) => (members.get(number(pipe, end)) ?? []).filter((other) => other !== pipe),
  };
}

/** Joints at which at least `least` pipes end, each once, with the pipe that comes first. */
export function joinedJoints(
  pipes: readonly LateralPipe[],
  joints: PipeJoints,
  least: number,
): { readonly pipe: LateralPipe; readonly at: Point }[] {
  const seen = new Set<number>();
  const found: { pipe: LateralPipe; at: Point }[] = [];
  for (const pipe of pipes) {
    for (const end of ['a', 'b'] as const) {
      const number = joints.number(pipe, end);
      if (seen.has(number)) continue;
      seen.add(number);
      if (joints.at(pipe, end).length + 1 >= least) found.push({ pipe, at: pipe[end] });
    }
  }
  return found;
}

/**
 * The end towards which water goes in each live pipe that is joined to a supply through live pipes; a pipe that water
 * reaches from both ends at once has none.
 */
export function waysFrom(
  pipes: readonly LateralPipe[],
  supplies: Table<Supply>,
  joints: PipeJoints,
): ReadonlyMap<string, End> {
  const live = pipes.filter(({ fate }) => fate === 'live');
  const ways = new Map<string, End>();
  if (!live.length) return ways;
  const byJoint = new Map<number, { pipe: LateralPipe; end: End }[]>();
  const reached = new Map<number, number>();
  let edge: number[] = [];
  for (const pipe of live) {
    for (const end of ['a', 'b'] as const) {
      const number = joints.number(pipe, end);
      const list = byJoint.get(number);
      if (list) list.push({ pipe, end });
      else byJoint.set(number, [{ pipe, end }]);
      const name = end === 'a' ? pipe.from : pipe.to;
      const fed = supplies
        .toArray()
        .some(
          ({ id, at, zone }) => agree(zone, pipe.zone) && (id === name || distance(at, pipe[end]) <= FEEDS_M),
        );
      if (fed && !reached.has(number)) {
        reached.set(number, 0);
        edge.push(number);
      }
    }
  }
  for (let step = 1; edge.length; step++) {
    const next: number[] = [];
    for (const joint of edge) {
      for (const { pipe, end } of byJoint.get(joint) ?? []) {
        if (ways.has(pipe.id)) continue;
        const far: End = end === 'a' ? 'b' : 'a';
        const number = joints.number(pipe, far);
        if (reached.get(number) === step - 1) continue;
        ways.set(pipe.id, far);
        if (reached.has(number)) continue;
        reached.set(number, step);
        next.push(number);
      }
    }
    edge = next;
  }
  return ways;
}
