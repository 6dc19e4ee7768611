import { between, distance, type Point } from '../../../base/point.ts';
import { distanceToRing, polygonContains } from '../../../base/polygon.ts';
import { nearestOnSegment, segmentCrossing } from '../../../base/polyline.ts';
import type { Area, Plan } from '../../../plan/records.ts';
import { inOrder } from './order.ts';
import type { PipeGraph } from './graph.ts';

/** A tie-in is within reach of a bed this near to its edge: 3 ft (common practice), metres. */
export const NEAR_BED_M = 0.9144;

/** The beds that a zone waters, and how a place lies to them. */
export interface ZoneBeds {
  readonly beds: readonly Area[];
  /** Distance to the nearest bed of the zone, 0 inside, and that bed; `null` without a bed. */
  nearest(at: Point): { readonly bedId: string; readonly distanceM: number } | null;
  /** Numbers in `beds` of those that drip reaches from a place without crossing paving or a building. */
  served(at: Point): readonly number[];
}

/**
 * The beds that the zone's heads for beds stand in or next to; where it has none, those next to its pipes. Drip gets
 * from a place to a bed, and from bed to bed, where a straight way between them crosses no paving and no building.
 */
export function bedsOfZone(graph: PipeGraph, areas: Plan['areas']): ZoneBeds {
  const beds = [...areas].filter(({ use }) => use === 'bed').sort((a, b) => inOrder(a.id, b.id));
  const walls = [...areas].filter(({ use }) => use === 'paving' || use === 'building');
  const heads = graph.heads.filter(({ waters }) => waters === 'bed').map(({ at }) => at);
  const places = heads.length > 0 ? heads : graph.nodes.map(({ at }) => at);
  const mine = new Set(places.flatMap((at) => nearestBed(beds, at)?.bed ?? []));
  const own = beds.filter((bed) => mine.has(bed));
  const groups = groupsOf(own, walls);
  return {
    beds: own,
    nearest(at) {
      const near = nearestBed(own, at);
      return near && { bedId: near.bed.id, distanceM: near.distanceM };
    },
    served(at) {
      const open = new Set(
        own.flatMap((bed, i) => (distanceTo(bed, at) === 0 || isOpen(at, bed, walls) ? [groups[i]!] : [])),
      );
      return own.flatMap((_, i) => (open.has(groups[i]!) ? [i] : []));
    },
  };
}

function distanceTo(bed: Area, at: Point): number {
  if (polygonContains(bed.outline, bed.holes, at)) return 0;
  return Math.min(...[bed.outline, ...bed.holes].map((ring) => distanceToRing(ring, at)));
}

function nearestBed(
  beds: readonly Area[],
  at: Point,
): { readonly bed: Area; readonly distanceM: number } | null {
  let best: { bed: Area; distanceM: number } | null = null;
  for (const bed of beds) {
    const distanceM = distanceTo(bed, at);
    if (!best || distanceM < best.distanceM) best = { bed, distanceM };
  }
  return best;
}

/** By bed: the number of the group of beds that drip gets through without a crossing. */
function groupsOf(beds: readonly Area[], walls: readonly Area[]): number[] {
  const group = beds.map((_, i) => i);
  beds.forEach((bed, i) => {
    for (let j = 0; j < i; j++) {
      if (group[i] === group[j] || !adjoin(bed, beds[j]!, walls)) continue;
      const [from, to] = [group[i]!, group[j]!];
      group.forEach((g, k) => {
        if (g === from) group[k] = to;
      });
    }
  });
  return group;
}

/** Whether a straight way from a place to the nearest place of a bed crosses nothing paved or built. */
function isOpen(at: Point, bed: Area, walls: readonly Area[]): boolean {
  return walls.every((wall) => !crosses(at, nearestOnRing(bed, at), wall));
}

/** Whether one of the short ways between two beds crosses nothing paved or built. */
function adjoin(p: Area, q: Area, walls: readonly Area[]): boolean {
  const ways = [
    ...p.outline.map((at) => [at, nearestOnRing(q, at)] as const),
    ...q.outline.map((at) => [at, nearestOnRing(p, at)] as const),
  ].map(([a, b]) => ({ a, b, lengthM: distance(a, b) }));
  const shortest = Math.min(...ways.map(({ lengthM }) => lengthM));
  // A little longer ways count too: one corner may lie behind paving that ends beside it.
  const limit = 2 * shortest + NEAR_BED_M;
  return ways.some(({ a, b, lengthM }) => lengthM <= limit && walls.every((wall) => !crosses(a, b, wall)));
}

function nearestOnRing({ outline }: Area, at: Point): Point {
  let best = outline[0]!;
  let bestM = Infinity;
  outline.forEach((p, i) => {
    const near = nearestOnSegment(p, outline[(i + 1) % outline.length]!, at);
    if (near.distance >= bestM) return;
    bestM = near.distance;
    best = near.point;
  });
  return best;
}

/** Whether a straight way passes over the inside of an area; running along its line does not count. */
function crosses(a: Point, b: Point, area: Area): boolean {
  const lengthM = distance(a, b);
  if (lengthM < ON_LINE_M) return false;
  const shares = [0, 1];
  area.outline.forEach((corner, i) => {
    const at = segmentCrossing(a, b, corner, area.outline[(i + 1) % area.outline.length]!);
    if (at) shares.push(distance(a, at) / lengthM);
  });
  shares.sort((p, q) => p - q);
  return shares.some((share, i) => {
    const next = shares[i + 1];
    if (next === undefined || (next - share) * lengthM < ON_LINE_M) return false;
    const middle = between(a, b, (share + next) / 2);
    return (
      polygonContains(area.outline, area.holes, middle) && distanceToRing(area.outline, middle) > ON_LINE_M
    );
  });
}

/** A place this near to the line of an area lies on it, metres. */
const ON_LINE_M = 1e-6;
