import { distance, type Point } from '../../../base/point.ts';
import { nearestOnSegment } from '../../../base/polyline.ts';
import { ONE_JOINT_M, STANDS_ON_M } from '../../../plan/joining.ts';
import type { Head, LateralPipe, Plan, Supply } from '../../../plan/records.ts';
import { Notices } from '../../network/notices.ts';
import { counted } from '../../wording.ts';
import { UnionFind } from '../../network/union-find.ts';
import type { Notice } from '../../results.ts';
import { inOrder } from './order.ts';

/** An end this near to the middle of another piece is a tee on it, metres (common practice). */
export const TEE_REACH_M = 0.15;
/** An end that joins nothing belongs to another end this near: half a foot, as heads do. */
export const LOOSE_REACH_M = STANDS_ON_M + 1e-6;
/** A head belongs to the pipe that it stands this near to: 0.5 ft (rule of the survey files), and a hair. */
export const HEAD_REACH_M = STANDS_ON_M + 1e-6;
/** A valve belongs to the pipe that it stands this near to, metres: the width of a valve box (common practice). */
export const VALVE_REACH_M = 0.5;

/** What belongs to one valve zone. */
export interface ZoneParts {
  readonly zone: string | null;
  readonly pieces: readonly LateralPipe[];
  readonly heads: readonly Head[];
  readonly supplies: readonly Supply[];
}

export interface PlanZones {
  readonly zones: readonly ZoneParts[];
  /** What could not be put into a zone, or only by a guess. */
  readonly notices: readonly Notice[];
}

/**
 * Sorts old pipes, heads and valves by zone, in the natural order of the zones' names, none first. Pieces, heads and
 * valves of different zones never meet, wherever they lie. A piece without a zone is of the zone of what it touches
 * where that is only one, pieces and valves before heads; where several valves have no zone, of one by the id of the
 * valve that it touches; else of the plan's only valve, else of none. A head and a valve are of the zone of the pieces
 * that they touch.
 */
export function zonesOfPlan(plan: Pick<Plan, 'laterals' | 'heads' | 'supplies'>): PlanZones {
  const notices = new Notices();
  const pieces = [...plan.laterals].filter((piece) => placed(piece.a) && placed(piece.b));
  const heads = [...plan.heads].filter((head) => placed(head.at));
  const supplies = [...plan.supplies].filter((supply) => placed(supply.at));
  const only = plan.supplies.size === 1 ? named([...plan.supplies][0]!.zone) : null;

  const zoneOfPiece = zonesOfPieces(pieces, heads, supplies, only, notices);
  const known = new Set(zoneOfPiece);
  for (const { zone } of [...supplies, ...heads]) if (named(zone) !== null) known.add(named(zone));
  const single = known.size === 1 ? [...known][0]! : null;
  const groups = new Map<string | null, { pieces: LateralPipe[]; heads: Head[]; supplies: Supply[] }>();
  const group = (zone: string | null): { pieces: LateralPipe[]; heads: Head[]; supplies: Supply[] } => {
    const found = groups.get(zone) ?? { pieces: [], heads: [], supplies: [] };
    groups.set(zone, found);
    return found;
  };
  pieces.forEach((piece, i) => group(zoneOfPiece[i]!).pieces.push(piece));
  for (const head of heads) {
    const touched = nearZones(head.at, HEAD_REACH_M, pieces, zoneOfPiece);
    if (named(head.zone) === null && touched.length > 1) {
      notices.add(
        'old-head-zone-unclear',
        'warning',
        `Head "${head.id}" has no zone and stands on pipes of the zones ${touched.map(titled).join(', ')}; it is taken to be of none: type its zone.`,
        { table: 'heads', id: head.id },
      );
    }
    const zone = named(head.zone) ?? (touched.length === 1 ? touched[0]! : null) ?? only ?? single;
    group(zone).heads.push(head);
  }
  for (const supply of supplies) {
    const touched = zonesAtSupply(supply, pieces, zoneOfPiece);
    const zone = named(supply.zone) ?? (touched.length === 1 ? touched[0]! : null) ?? single;
    group(zone).supplies.push(supply);
  }
  const zones = [...groups]
    .filter(([, parts]) => parts.pieces.length > 0 || parts.heads.length > 0)
    .map(([zone, parts]) => ({ zone, ...parts }))
    .sort((a, b) => inOrder(a.zone ?? '', b.zone ?? ''));
  return { zones, notices: notices.all() };
}

/** A zone's name as it is compared: without blanks around; blank is none. */
function named(zone: string | null): string | null {
  return zone?.trim() || null;
}

function titled(zone: string | null): string {
  return zone ?? 'none';
}

function placed([x, y]: Point): boolean {
  return Number.isFinite(x) && Number.isFinite(y);
}

function zonesOfPieces(
  pieces: readonly LateralPipe[],
  heads: readonly Head[],
  supplies: readonly Supply[],
  only: string | null,
  notices: Notices,
): (string | null)[] {
  const zones = pieces.map((piece) => named(piece.zone));
  const loose = pieces.flatMap((_, i) => (zones[i] === null ? [i] : []));
  if (loose.length === 0 || zones.length === 0) return zones;
  const sets = new UnionFind(pieces.length);
  const valveNames = new Map(
    supplies.flatMap(({ id, name }) => [[name.trim(), id] as const, [id, id] as const]),
  );
  const join = (p: LateralPipe, q: LateralPipe): boolean => meet(p, q, valveNames);
  for (const i of loose) {
    for (const j of loose) if (j < i && join(pieces[i]!, pieces[j]!)) sets.join(i, j);
  }
  const touched = new Map<number, Set<string>>();
  for (const i of loose) {
    const root = sets.root(i);
    const found = touched.get(root) ?? new Set<string>();
    touched.set(root, found);
    pieces.forEach((other, j) => {
      const zone = zones[j];
      if (typeof zone === 'string' && join(pieces[i]!, other)) found.add(zone);
    });
    for (const zone of valveZones(pieces[i]!, supplies)) found.add(zone);
  }
  const given = [...zones];
  for (const root of new Set(loose.map((i) => sets.root(i)))) {
    const members = loose.filter((i) => sets.root(i) === root);
    const own = members.map((i) => pieces[i]!);
    const byPipe = [...touched.get(root)!].sort(inOrder);
    const found = byPipe.length > 0 ? byPipe : (zoneOfHeads(own, heads) ?? zoneByValve(own, supplies));
    if (found.length > 1) {
      notices.add(
        'old-pipe-zone-unclear',
        'warning',
        `${counted(members.length, 'old pipe')} without a zone ${members.length === 1 ? 'touches' : 'touch'} pipes or valves of the zones ${found.join(', ')} and ${members.length === 1 ? 'is' : 'are'} joined to none of them: type the zone.`,
        ...members.map((i) => ({ table: 'laterals', id: pieces[i]!.id }) as const),
      );
    }
    for (const i of members) given[i] = found.length === 1 ? found[0]! : found.length === 0 ? only : null;
  }
  return given;
}

/** Zones of the valves that a piece touches. */
function valveZones(piece: LateralPipe, supplies: readonly Supply[]): string[] {
  return valvesAt(piece, supplies).flatMap(({ zone }) => named(zone) ?? []);
}

/** The valves that a piece names, else those that stand at its ends. */
function valvesAt(piece: LateralPipe, supplies: readonly Supply[]): readonly Supply[] {
  const byName = supplies.filter((supply) => namesSupply(piece, supply));
  if (byName.length > 0) return byName;
  return supplies.filter(({ at }) => Math.min(distance(at, piece.a), distance(at, piece.b)) <= VALVE_REACH_M);
}

/** The one zone that the heads on some pieces have; `null` where they have none or several. */
function zoneOfHeads(pieces: readonly LateralPipe[], heads: readonly Head[]): string[] | null {
  const zones = new Set(
    heads
      .filter(({ at }) => pieces.some(({ a, b }) => nearestOnSegment(a, b, at).distance <= HEAD_REACH_M))
      .flatMap(({ zone }) => named(zone) ?? []),
  );
  return zones.size === 1 ? [...zones] : null;
}

/** Of several valves without a zone each has one by its id, if some pieces touch only that one. */
function zoneByValve(pieces: readonly LateralPipe[], supplies: readonly Supply[]): string[] {
  if (supplies.filter(({ zone }) => named(zone) === null).length < 2) return [];
  const touched = new Set(pieces.flatMap((piece) => valvesAt(piece, supplies)));
  return touched.size === 1 ? [...touched].map(({ id }) => id) : [];
}

/** Whether an end of a piece bears the name of a valve. */
export function namesSupply(piece: LateralPipe, supply: Supply): boolean {
  return [piece.from.trim(), piece.to.trim()].some(
    (name) => name !== '' && (name === supply.id || name === supply.name.trim()),
  );
}

function nearZones(
  at: Point,
  reachM: number,
  pieces: readonly LateralPipe[],
  zones: readonly (string | null)[],
): (string | null)[] {
  const found = new Set<string | null>();
  pieces.forEach(({ a, b }, i) => {
    if (nearestOnSegment(a, b, at).distance <= reachM) found.add(zones[i]!);
  });
  return [...found].sort((a, b) => inOrder(a ?? '', b ?? ''));
}

function zonesAtSupply(
  supply: Supply,
  pieces: readonly LateralPipe[],
  zones: readonly (string | null)[],
): (string | null)[] {
  const byName = new Set(zones.filter((_, i) => namesSupply(pieces[i]!, supply)));
  return byName.size > 0 ? [...byName] : nearZones(supply.at, VALVE_REACH_M, pieces, zones);
}

/**
 * Whether two pieces would join if they were of one zone.
 * @param valves ids of valves by the names that pipe ends may bear: ends at two valves are two, though in one box
 */
function meet(p: LateralPipe, q: LateralPipe, valves: ReadonlyMap<string, string>): boolean {
  const names = [q.from.trim(), q.to.trim()];
  if ([p.from.trim(), p.to.trim()].some((name) => name !== '' && names.includes(name))) return true;
  for (const [end, name] of endsOf(p)) {
    for (const [other, otherName] of endsOf(q)) {
      const [valve, otherValve] = [valves.get(name), valves.get(otherName)];
      const areTwo = valve !== undefined && otherValve !== undefined && valve !== otherValve;
      if (!areTwo && distance(end, other) <= ONE_JOINT_M) return true;
    }
  }
  return [p.a, p.b].some((end) => isOnMiddle(end, q)) || [q.a, q.b].some((end) => isOnMiddle(end, p));
}

function endsOf({ a, b, from, to }: LateralPipe): readonly (readonly [Point, string])[] {
  return [
    [a, from.trim()],
    [b, to.trim()],
  ];
}

function isOnMiddle(end: Point, { a, b }: LateralPipe): boolean {
  const near = nearestOnSegment(a, b, end);
  const lengthM = distance(a, b);
  return (
    near.distance <= TEE_REACH_M && near.t * lengthM > ONE_JOINT_M && (1 - near.t) * lengthM > ONE_JOINT_M
  );
}
