import { ONE_JOINT_M } from '../../../plan/joining.ts';
import { between, distance, type Point } from '../../../base/point.ts';
import { nearestOnSegment } from '../../../base/polyline.ts';
import type { Head, LateralPipe, Supply } from '../../../plan/records.ts';
import { UnionFind } from '../../network/union-find.ts';
import { inOrder, placeOrder } from './order.ts';
import { HEAD_REACH_M, LOOSE_REACH_M, TEE_REACH_M, VALVE_REACH_M, type ZoneParts } from './zone-parts.ts';

/** A piece of the survey, turned so that it runs from its lesser end by place. */
export interface TurnedPiece {
  readonly record: LateralPipe;
  /** Whether `a` is the record's `b`. */
  readonly turned: boolean;
  readonly a: Point;
  readonly b: Point;
  readonly names: readonly [string, string];
  /** In plan. */
  readonly lengthM: number;
}

/** A place on a piece where something joins: an end, or where it is split. */
export interface Vertex {
  readonly piece: number;
  readonly alongM: number;
  readonly at: Point;
  readonly name: string;
}

export interface Joined {
  readonly pieces: readonly TurnedPiece[];
  readonly vertices: readonly Vertex[];
  /** By vertex: the first vertex of its joint. */
  readonly joint: readonly number[];
  /** By head and by supply of the zone: a vertex, or -1. */
  readonly headVertex: readonly number[];
  readonly supplyVertex: readonly number[];
}

/** Puts the pieces of one zone together: by the names of ends, by place, and by tees, heads and valves on their middle. */
export function joinPieces({ pieces: records, heads, supplies }: ZoneParts): Joined {
  const pieces = records.map(turned).sort(piecesInOrder);
  const vertices: Vertex[] = pieces.flatMap((piece, i) => [
    { piece: i, alongM: 0, at: piece.a, name: piece.names[0] },
    { piece: i, alongM: piece.lengthM, at: piece.b, name: piece.names[1] },
  ]);
  const sets = new UnionFind(vertices.length);
  joinNames(vertices, sets);
  joinPlaces(vertices, sets);
  joinTees(pieces, vertices, sets);
  joinLooseEnds(vertices, sets, 2 * pieces.length);
  const headVertex = heads.map((head) => attach(head, pieces, vertices, sets));
  const supplyVertex = supplies.map((supply) => attachSupply(supply, pieces, vertices, sets));
  return { pieces, vertices, joint: vertices.map((_, v) => sets.root(v)), headVertex, supplyVertex };
}

function turned(record: LateralPipe): TurnedPiece {
  const isTurned = placeOrder(record.a, record.b) > 0;
  const [a, b] = isTurned ? [record.b, record.a] : [record.a, record.b];
  const names = [record.from.trim(), record.to.trim()] as const;
  return {
    record,
    turned: isTurned,
    a,
    b,
    names: isTurned ? [names[1], names[0]] : names,
    lengthM: distance(a, b),
  };
}

/** By place; of pieces in one place those first of which more is known, so that of doubles the better one counts. */
function piecesInOrder(p: TurnedPiece, q: TurnedPiece): number {
  const known = ({ record }: TurnedPiece): string =>
    [
      record.measured ? 0 : 1,
      record.size === null ? 1 : 0,
      record.material === null ? 1 : 0,
      record.depthM === null ? 1 : 0,
      record.size,
      record.material,
      record.depthM,
    ].join('|');
  return (
    placeOrder(p.a, q.a) ||
    placeOrder(p.b, q.b) ||
    inOrder(known(p), known(q)) ||
    inOrder(p.names.join('|'), q.names.join('|')) ||
    inOrder(p.record.id, q.record.id)
  );
}

function joinNames(vertices: readonly Vertex[], sets: UnionFind): void {
  const first = new Map<string, number>();
  vertices.forEach(({ name }, v) => {
    if (name === '') return;
    const known = first.get(name);
    if (known === undefined) first.set(name, v);
    else sets.join(known, v);
  });
}

function joinPlaces(vertices: readonly Vertex[], sets: UnionFind): void {
  const order = vertices.map((_, v) => v).sort((a, b) => vertices[a]!.at[0] - vertices[b]!.at[0]);
  order.forEach((v, i) => {
    for (let j = i + 1; j < order.length; j++) {
      const w = order[j]!;
      if (vertices[w]!.at[0] - vertices[v]!.at[0] > ONE_JOINT_M) break;
      if (distance(vertices[v]!.at, vertices[w]!.at) <= ONE_JOINT_M) sets.join(v, w);
    }
  });
}

/** Whether a place along a piece is its middle, where it can be split, and not one of its ends. */
function isMiddle(alongM: number, lengthM: number): boolean {
  return alongM > ONE_JOINT_M && lengthM - alongM > ONE_JOINT_M;
}

function joinTees(pieces: readonly TurnedPiece[], vertices: Vertex[], sets: UnionFind): void {
  const ends = vertices.length;
  const before = vertices.map((_, v) => sets.root(v));
  const wanted: { piece: number; alongM: number; end: number }[] = [];
  pieces.forEach(({ a, b, lengthM }, p) => {
    const [minX, maxX] = [Math.min(a[0], b[0]) - TEE_REACH_M, Math.max(a[0], b[0]) + TEE_REACH_M];
    const [minY, maxY] = [Math.min(a[1], b[1]) - TEE_REACH_M, Math.max(a[1], b[1]) + TEE_REACH_M];
    for (let v = 0; v < ends; v++) {
      const [x, y] = vertices[v]!.at;
      if (x < minX || x > maxX || y < minY || y > maxY) continue;
      if (before[v] === before[2 * p] || before[v] === before[2 * p + 1]) continue;
      const near = nearestOnSegment(a, b, vertices[v]!.at);
      const alongM = near.t * lengthM;
      if (near.distance <= TEE_REACH_M && isMiddle(alongM, lengthM))
        wanted.push({ piece: p, alongM, end: v });
    }
  });
  for (const { piece, alongM, end } of wanted) {
    sets.join(splitAt(piece, alongM, pieces, vertices, sets), end);
  }
}

/**
 * Old pipe is surveyed by eye: an end that joins nothing belongs to the nearest other end within half a foot. A head or
 * valve may still stand there.
 */
function joinLooseEnds(vertices: readonly Vertex[], sets: UnionFind, ends: number): void {
  const count = new Map<number, number>();
  vertices.forEach((_, v) => count.set(sets.root(v), (count.get(sets.root(v)) ?? 0) + 1));
  const wanted: [number, number][] = [];
  for (let v = 0; v < ends; v++) {
    if (count.get(sets.root(v)) !== 1) continue;
    let near = -1;
    for (let w = 0; w < ends; w++) {
      if (vertices[w]!.piece === vertices[v]!.piece) continue;
      if (!mayReach(vertices[v]!.at, vertices[w]!.at, LOOSE_REACH_M)) continue;
      const away = distance(vertices[v]!.at, vertices[w]!.at);
      if (away <= LOOSE_REACH_M && (near < 0 || away < distance(vertices[v]!.at, vertices[near]!.at)))
        near = w;
    }
    if (near >= 0) wanted.push([v, near]);
  }
  for (const [v, w] of wanted) sets.join(v, w);
}

/** Whether two places may be within reach: spares most of the roots. */
function mayReach(p: Point, q: Point, reachM: number): boolean {
  return Math.abs(p[0] - q[0]) <= reachM && Math.abs(p[1] - q[1]) <= reachM;
}

/** The vertex of a piece at a place along it; a new one unless one lies within the joining reach. */
function splitAt(
  piece: number,
  alongM: number,
  pieces: readonly TurnedPiece[],
  vertices: Vertex[],
  sets: UnionFind,
): number {
  let near = -1;
  vertices.forEach((vertex, v) => {
    if (vertex.piece !== piece) return;
    const away = Math.abs(vertex.alongM - alongM);
    if (away <= ONE_JOINT_M && (near < 0 || away < Math.abs(vertices[near]!.alongM - alongM))) near = v;
  });
  if (near >= 0) return near;
  const { a, b, lengthM } = pieces[piece]!;
  vertices.push({ piece, alongM, at: between(a, b, alongM / lengthM), name: '' });
  return sets.add();
}

/** The joint nearest to a thing within its reach, else the piece nearest to it, split there; -1 for none. */
function attachNear(
  at: Point,
  reachM: number,
  pieces: readonly TurnedPiece[],
  vertices: Vertex[],
  sets: UnionFind,
): number {
  let best = -1;
  let bestM = reachM;
  vertices.forEach((vertex, v) => {
    if (!mayReach(vertex.at, at, reachM)) return;
    const away = distance(vertex.at, at);
    if (away <= reachM && (best < 0 || away < bestM)) {
      best = v;
      bestM = away;
    }
  });
  if (best >= 0) return best;
  let piece = -1;
  let alongM = 0;
  pieces.forEach(({ a, b, lengthM }, p) => {
    const near = nearestOnSegment(a, b, at);
    if (near.distance <= reachM && (piece < 0 || near.distance < bestM)) {
      piece = p;
      bestM = near.distance;
      alongM = near.t * lengthM;
    }
  });
  return piece < 0 ? -1 : splitAt(piece, alongM, pieces, vertices, sets);
}

/** A head belongs to the pipe beside it; where none is, to the pipe end that bears its name. */
function attach(head: Head, pieces: readonly TurnedPiece[], vertices: Vertex[], sets: UnionFind): number {
  const near = attachNear(head.at, HEAD_REACH_M, pieces, vertices, sets);
  return near >= 0 ? near : vertices.findIndex(({ name }) => name === head.id);
}

function attachSupply(
  supply: Supply,
  pieces: readonly TurnedPiece[],
  vertices: Vertex[],
  sets: UnionFind,
): number {
  const names = new Set([supply.id, supply.name.trim()]);
  const byName = vertices.findIndex(({ name }) => name !== '' && names.has(name));
  return byName >= 0 ? byName : attachNear(supply.at, VALVE_REACH_M, pieces, vertices, sets);
}
