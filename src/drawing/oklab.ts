/**
 * Colours in OKLab, a space in which equal distances look about equally far apart.
 * Source of the matrices: B. Ottosson, "A perceptual color space for image processing", 2020; transfer curve of
 * sRGB: IEC 61966-2-1.
 */

/** Lightness 0 (black) to 1 (white), and two opponent axes. */
export interface Oklab {
  readonly lightness: number;
  readonly a: number;
  readonly b: number;
}

/** Red, green and blue in linear light, each 0 to 1 inside the sRGB gamut. */
export type LinearRgb = readonly [r: number, g: number, b: number];

/** One sRGB component, 0 to 1, in linear light. */
export function toLinear(c: number): number {
  return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
}

/** One component of linear light as sRGB, 0 to 1. */
export function fromLinear(c: number): number {
  return c <= 0.0031308 ? 12.92 * c : 1.055 * c ** (1 / 2.4) - 0.055;
}

export function oklabToLinear({ lightness, a, b }: Oklab): LinearRgb {
  const l = (lightness + 0.3963377774 * a + 0.2158037573 * b) ** 3;
  const m = (lightness - 0.1055613458 * a - 0.0638541728 * b) ** 3;
  const s = (lightness - 0.0894841775 * a - 1.291485548 * b) ** 3;
  return [
    4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s,
    -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s,
    -0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s,
  ];
}

export function linearToOklab([r, g, b]: LinearRgb): Oklab {
  const l = Math.cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b);
  const m = Math.cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b);
  const s = Math.cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b);
  return {
    lightness: 0.2104542553 * l + 0.793617785 * m - 0.0040720468 * s,
    a: 1.9779984951 * l - 2.428592205 * m + 0.4505937099 * s,
    b: 0.0259040371 * l + 0.7827717662 * m - 0.808675766 * s,
  };
}

/** `#rrggbb`; components outside the gamut are brought to its edge. */
export function linearToHex(rgb: LinearRgb): `#${string}` {
  const byte = (c: number): string =>
    Math.round(255 * fromLinear(Math.min(1, Math.max(0, c))))
      .toString(16)
      .padStart(2, '0');
  return `#${rgb.map(byte).join('')}`;
}

/** Linear light of `#rrggbb`. Throws a RangeError for any other text. */
export function hexToLinear(hex: string): LinearRgb {
  const match = /^#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})$/i.exec(hex);
  if (!match) throw new RangeError(`not a colour of the form #rrggbb: ${hex}`);
  const part = (i: number): number => toLinear(parseInt(match[i]!, 16) / 255);
  return [part(1), part(2), part(3)];
}
