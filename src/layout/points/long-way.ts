import type { Point } from '../../base/point.ts';

/**
 * Direction in which places lie most spread out, degrees counter-clockwise from east, in [0, 180): the main axis of
 * their second moments. 0 for fewer than two places and where no direction stands out.
 */
export function longWay(places: readonly Point[]): number {
  if (places.length < 2) return 0;
  const n = places.length;
  const mx = places.reduce((sum, [x]) => sum + x, 0) / n;
  const my = places.reduce((sum, [, y]) => sum + y, 0) / n;
  let xx = 0;
  let xy = 0;
  let yy = 0;
  for (const [x, y] of places) {
    xx += (x - mx) ** 2;
    xy += (x - mx) * (y - my);
    yy += (y - my) ** 2;
  }
  if (Math.hypot(xx - yy, 2 * xy) <= 1e-9 * (xx + yy)) return 0;
  const angle = (Math.atan2(2 * xy, xx - yy) * 90) / Math.PI;
  return ((angle % 180) + 180) % 180;
}
