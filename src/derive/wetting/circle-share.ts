import type { Ellipses } from './ellipses.ts';

/** Chords laid through a circle: at least so many, and no more. */
const LEAST_CHORDS = 32;
const MOST_CHORDS = 600;
/** Chords in the middle of the circle lie this close, as shares of its radius and of the narrowest half axis. */
const OF_RADIUS = 0.04;
const OF_ELLIPSE = 0.5;
/**
 * Chords run at this angle to the east, radians, since rows mostly run along the axes: a wet band that chords cross
 * comes out far better than one that they run along.
 */
const TILT = 0.47;
const COS = Math.cos(TILT);
const SIN = Math.sin(TILT);

/** Room for what lies near one circle, and for the stretches on one chord; kept between calls. */
const roomFor = (count: number) => ({
  size: count,
  /** Middle, from the middle of the circle. */
  x: new Float64Array(count),
  y: new Float64Array(count),
  halfY: new Float64Array(count),
  /** The stretch on a chord dy above the middle: x - lean dy, and on both sides wide (1 - (dy / halfY)^2)^0.5. */
  lean: new Float64Array(count),
  wide: new Float64Array(count),
  from: new Float64Array(count),
  to: new Float64Array(count),
});
let room = roomFor(64);

/**
 * Share of a circle that the ellipses `near` it cover together, 0 to 1, within 0.01 (docs/wetting.md). Chords lie at
 * equal steps of angle, so that the whole circle comes out exact; on each the stretches that are covered are joined
 * exactly.
 */
export function circleShare(
  ellipses: Ellipses,
  near: readonly number[],
  atX: number,
  atY: number,
  radiusM: number,
): number {
  const { x, y, a, b, c, halfX, halfY, narrowest } = ellipses;
  let narrow = Infinity;
  const close: number[] = [];
  for (const k of near) {
    const [dx, dy] = [x[k]! - atX, y[k]! - atY];
    const far = Math.hypot(dx, dy);
    if (far >= radiusM + Math.max(halfX[k]!, halfY[k]!)) continue;
    if (far + radiusM <= narrowest[k]!) return 1;
    close.push(k);
    narrow = Math.min(narrow, narrowest[k]!);
  }
  const count = close.length;
  if (count === 0 || !(radiusM > 0)) return 0;
  // In order along the chords, so that the stretches of a chord come nearly in order.
  close.sort((p, q) => (x[p]! - x[q]!) * COS + (y[p]! - y[q]!) * SIN);
  if (room.size < count) room = roomFor(2 * count);
  const { x: dxs, y: dys, halfY: halves, lean, wide, from, to } = room;
  for (let i = 0; i < count; i++) {
    const k = close[i]!;
    const [dx, dy] = [x[k]! - atX, y[k]! - atY];
    const along = a[k]! * COS * COS + 2 * b[k]! * COS * SIN + c[k]! * SIN * SIN;
    const mixed = (c[k]! - a[k]!) * COS * SIN + b[k]! * (COS * COS - SIN * SIN);
    dxs[i] = dx * COS + dy * SIN;
    dys[i] = dy * COS - dx * SIN;
    halves[i] = Math.sqrt(along / (a[k]! * c[k]! - b[k]! * b[k]!));
    lean[i] = mixed / along;
    wide[i] = 1 / Math.sqrt(along);
  }
  const stepM = Math.min(OF_RADIUS * radiusM, OF_ELLIPSE * narrow);
  const chords = Math.min(MOST_CHORDS, Math.max(LEAST_CHORDS, Math.ceil((Math.PI * radiusM) / stepM)));
  let covered = 0;
  for (let chord = 0; chord < chords; chord++) {
    const angle = ((chord + 0.5) * Math.PI) / chords;
    const sin = Math.sin(angle);
    const half = radiusM * sin;
    const lineY = radiusM * Math.cos(angle);
    let stretches = 0;
    for (let i = 0; i < count; i++) {
      const dy = lineY - dys[i]!;
      const part = dy / halves[i]!;
      const rest = 1 - part * part;
      if (rest <= 0) continue;
      const middle = dxs[i]! - lean[i]! * dy;
      const reach = wide[i]! * Math.sqrt(rest);
      const left = middle - reach;
      const right = middle + reach;
      if (right <= -half || left >= half) continue;
      if (stretches > 0 && left >= from[stretches - 1]! && right <= to[stretches - 1]!) continue;
      let at = stretches++;
      for (; at > 0 && from[at - 1]! > left; at--) {
        from[at] = from[at - 1]!;
        to[at] = to[at - 1]!;
      }
      from[at] = left;
      to[at] = right;
    }
    let reached = -half;
    let length = 0;
    for (let i = 0; i < stretches && reached < half; i++) {
      const end = Math.min(half, to[i]!);
      if (end <= reached) continue;
      length += end - Math.max(reached, from[i]!);
      reached = end;
    }
    covered += length * sin;
  }
  return Math.min(1, covered / (chords * radiusM));
}
