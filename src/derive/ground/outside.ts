import type { Point } from '../../base/point.ts';
import type { Face } from './faces.ts';

/** One side of the triangulated ground: from `a` to `b` with the ground on its left. */
export interface Side {
  readonly a: Point;
  readonly b: Point;
  readonly zA: number;
  readonly zB: number;
  /** Rise per metre going straight out over this side. */
  readonly outSlope: number;
}

interface Sector {
  readonly from: Point;
  readonly to: Point;
  readonly gradient: Point;
}
interface Corner {
  readonly at: Point;
  readonly zM: number;
  readonly sectors: readonly Sector[];
}

/** The ground beyond the levels: in front of each side its plane, between two sides a wedge that joins them. */
export interface Beyond {
  /** Distance from the sides, and height and gradient there. */
  at(p: Point): { readonly distanceM: number; readonly zM: number; readonly gradient: Point };
  /** Shares of the way from `a` to `b` at which one plane gives way to another. */
  creases(a: Point, b: Point): number[];
  /** The plane pieces out to a distance from the sides, at least. */
  faces(reachM: number): Face[];
}

const WIDEST_SECTOR = Math.PI / 3;

/**
 * Carries the ground on beyond its sides without a step anywhere.
 * @param sides closed ring of sides, counter-clockwise, at least three
 */
export function beyond(sides: readonly Side[]): Beyond {
  const normals = sides.map(({ a, b }): Point => {
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    return [(b[1] - a[1]) / length, -(b[0] - a[0]) / length];
  });
  const gradients = sides.map(({ a, b, zA, zB, outSlope }, i): Point => {
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const along: Point = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
    const slope = (zB - zA) / length;
    const n = normals[i]!;
    return [slope * along[0] + outSlope * n[0], slope * along[1] + outSlope * n[1]];
  });
  const corners = sides.map((side, i): Corner => {
    const before = (i + sides.length - 1) % sides.length;
    return {
      at: side.a,
      zM: side.zA,
      sectors: sectorsBetween(normals[before]!, normals[i]!, gradients[before]!, gradients[i]!),
    };
  });
  const rays = corners.flatMap(({ at, sectors }, i) => {
    const directions = sectors.map((sector) => sector.from);
    directions.push(normals[i]!);
    return directions.map((direction) => ({ at, direction }));
  });

  return {
    at(p) {
      let best = Infinity;
      let nearest = 0;
      let share = 0;
      for (let i = 0; i < sides.length; i++) {
        const { a, b } = sides[i]!;
        const dx = b[0] - a[0];
        const dy = b[1] - a[1];
        const t = Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy)));
        const away = Math.sqrt((p[0] - a[0] - t * dx) ** 2 + (p[1] - a[1] - t * dy) ** 2);
        if (away < best) {
          best = away;
          nearest = i;
          share = t;
        }
      }
      const corner =
        share <= 0 ? corners[nearest]! : share >= 1 ? corners[(nearest + 1) % sides.length]! : null;
      // Rounding may put a place on the last ray a hair beyond it: then the last wedge still holds.
      const sector = corner?.sectors.find(({ to }) => turn(to, p, corner.at) <= 0) ?? corner?.sectors.at(-1);
      const gradient = sector?.gradient ?? gradients[nearest]!;
      const base = sector ? corner! : { at: sides[nearest]!.a, zM: sides[nearest]!.zA };
      return {
        distanceM: best,
        zM: base.zM + gradient[0] * (p[0] - base.at[0]) + gradient[1] * (p[1] - base.at[1]),
        gradient,
      };
    },
    creases(a, b) {
      const shares: number[] = [];
      const dx = b[0] - a[0];
      const dy = b[1] - a[1];
      for (const { at, direction } of rays) {
        const cross = dx * direction[1] - dy * direction[0];
        if (cross === 0) continue;
        const fx = at[0] - a[0];
        const fy = at[1] - a[1];
        const share = (fx * direction[1] - fy * direction[0]) / cross;
        const out = (fx * dy - fy * dx) / cross;
        if (share > 0 && share < 1 && out >= -1e-6) shares.push(share);
      }
      return shares;
    },
    faces(reachM) {
      const out = (at: Point, d: Point, far: number): Point => [at[0] + d[0] * far, at[1] + d[1] * far];
      const rise = (gradient: Point, d: Point, far: number) =>
        (gradient[0] * d[0] + gradient[1] * d[1]) * far;
      const strips = sides.map(({ a, b, zA, zB }, i): Face => {
        const n = normals[i]!;
        const gradient = gradients[i]!;
        const up = rise(gradient, n, reachM);
        return {
          ring: [a, out(a, n, reachM), out(b, n, reachM), b],
          zM: [zA, zA + up, zB + up, zB],
          gradient,
          how: 'outside',
        };
      });
      // The straight outer edge of a wedge must not fall short of the reach.
      const far = reachM / Math.cos(WIDEST_SECTOR / 2);
      const wedges = corners.flatMap(({ at, zM, sectors }) =>
        sectors.map(({ from, to, gradient }): Face => ({
          ring: [at, out(at, from, far), out(at, to, far)],
          zM: [zM, zM + rise(gradient, from, far), zM + rise(gradient, to, far)],
          gradient,
          how: 'outside',
        })),
      );
      return [...strips, ...wedges];
    },
  };
}

/** Which side of the direction `d` from `at` the point lies on: positive to the left. */
function turn(d: Point, p: Point, at: Point): number {
  return d[0] * (p[1] - at[1]) - d[1] * (p[0] - at[0]);
}

/** Plane wedges between two outward directions; each direction's slope is blended from both sides' planes. */
function sectorsBetween(n0: Point, n1: Point, g0: Point, g1: Point): Sector[] {
  const angle = Math.atan2(n0[0] * n1[1] - n0[1] * n1[0], n0[0] * n1[0] + n0[1] * n1[1]);
  if (angle <= 1e-6) return [];
  const count = Math.ceil(angle / WIDEST_SECTOR);
  const directions = Array.from({ length: count + 1 }, (_, k): Point => {
    if (k === count) return n1;
    const turned = (angle * k) / count;
    const cos = Math.cos(turned);
    const sin = Math.sin(turned);
    return [n0[0] * cos - n0[1] * sin, n0[0] * sin + n0[1] * cos];
  });
  const slopes = directions.map((d, k) => {
    const share = k / count;
    return (1 - share) * (g0[0] * d[0] + g0[1] * d[1]) + share * (g1[0] * d[0] + g1[1] * d[1]);
  });
  return Array.from({ length: count }, (_, k): Sector => {
    const from = directions[k]!;
    const to = directions[k + 1]!;
    const determinant = from[0] * to[1] - from[1] * to[0];
    return {
      from,
      to,
      gradient: [
        (slopes[k]! * to[1] - slopes[k + 1]! * from[1]) / determinant,
        (from[0] * slopes[k + 1]! - to[0] * slopes[k]!) / determinant,
      ],
    };
  });
}
