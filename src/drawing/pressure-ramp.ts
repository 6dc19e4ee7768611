import { linearToHex, oklabToLinear, type Oklab } from './oklab.ts';

/**
 * Colours for pressures: from a light straw at the low end over sage to a deep blue at the high end. Lightness
 * falls evenly, so the order can be read in black and white print and with any colour vision; the turn in hue
 * runs from yellow to blue, the axis that red-green colour blindness leaves alone.
 */
const LOW = { lightness: 0.87, chroma: 0.11, hueDeg: 95 };
const HIGH = { lightness: 0.3, chroma: 0.11, hueDeg: 262 };

/** Number of chords by which the curve is measured; the colours are spread evenly along it. */
const CHORDS = 256;

/** A point of the curve by share of hue and lightness, before the spacing is evened out. */
function curve(u: number): Oklab {
  const hue = ((LOW.hueDeg + (HIGH.hueDeg - LOW.hueDeg) * u) * Math.PI) / 180;
  const chroma = LOW.chroma + (HIGH.chroma - LOW.chroma) * u;
  return {
    lightness: LOW.lightness + (HIGH.lightness - LOW.lightness) * u,
    a: chroma * Math.cos(hue),
    b: chroma * Math.sin(hue),
  };
}

function distance(p: Oklab, q: Oklab): number {
  return Math.hypot(p.lightness - q.lightness, p.a - q.a, p.b - q.b);
}

/** Length of the curve up to each chord's start, and in all. */
const LENGTHS: readonly number[] = (() => {
  const sums = [0];
  for (let i = 1; i <= CHORDS; i++) {
    sums.push(sums[i - 1]! + distance(curve((i - 1) / CHORDS), curve(i / CHORDS)));
  }
  return sums;
})();

/** The share of the parameter at which a share of the curve's length is reached. */
function evenly(t: number): number {
  const wanted = t * LENGTHS[CHORDS]!;
  let i = 1;
  while (i < CHORDS && LENGTHS[i]! < wanted) i++;
  const before = LENGTHS[i - 1]!;
  return (i - 1 + (wanted - before) / (LENGTHS[i]! - before)) / CHORDS;
}

const SHADES = 256;
const COLOURS: readonly `#${string}`[] = Array.from({ length: SHADES + 1 }, (_, i) =>
  linearToHex(oklabToLinear(curve(evenly(i / SHADES)))),
);

/**
 * Colour `#rrggbb` for a share of the pressure range: 0 lowest, 1 highest; shares outside are taken as the
 * nearer end. Throws a RangeError when `t` is not a number.
 */
export function pressureRamp(t: number): `#${string}` {
  if (Number.isNaN(t)) throw new RangeError('pressureRamp: the share is not a number');
  return COLOURS[Math.round(Math.min(1, Math.max(0, t)) * SHADES)]!;
}

/** Pressures at the two ends of the ramp, kPa. */
export interface ColourRange {
  readonly minKpa: number;
  readonly maxKpa: number;
}

/** Share of the range at which a pressure lies, unbounded; 0.5 for a range without width. */
export function shareOf(pressureKpa: number, { minKpa, maxKpa }: ColourRange): number {
  return maxKpa > minKpa ? (pressureKpa - minKpa) / (maxKpa - minKpa) : 0.5;
}
