import type { Point, Ring } from '../../base/point.ts';
import type { Face } from '../../derive/ground/faces.ts';

/** The part of a plane piece of ground that lies at a height or above it; fewer than three places: none. */
export function faceAbove({ ring, zM }: Pick<Face, 'ring' | 'zM'>, heightM: number): Ring {
  const kept: Point[] = [];
  for (let i = 0; i < ring.length; i++) {
    const j = (i + 1) % ring.length;
    const [a, b] = [ring[i]!, ring[j]!];
    const [za, zb] = [zM[i]!, zM[j]!];
    if (za >= heightM) kept.push(a);
    if (za >= heightM === zb >= heightM) continue;
    // Always reckoned from the lower end, so that neighbouring pieces find the very same place.
    kept.push(za < zb ? crossing(a, za, b, zb, heightM) : crossing(b, zb, a, za, heightM));
  }
  return kept;
}

function crossing(low: Point, zLow: number, high: Point, zHigh: number, heightM: number): Point {
  const share = (heightM - zLow) / (zHigh - zLow);
  return [low[0] + (high[0] - low[0]) * share, low[1] + (high[1] - low[1]) * share];
}
