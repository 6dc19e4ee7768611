import { determinant, type Homography } from '../../base/homography.ts';

/** Pixels row by row from the upper left, four bytes each: red, green, blue, 255. */
export interface PixelGrid {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly pixels: Uint32Array;
}

const WHITE = 0xffffffff;

/** The grid and copies of a half, a quarter ... of its size, for parts that are drawn smaller than they were taken. */
export function levelsFor(whole: PixelGrid, count: number): readonly PixelGrid[] {
  const levels = [whole];
  while (levels.length < count) {
    const last = levels.at(-1)!;
    if (last.widthPx < 2 || last.heightPx < 2) break;
    levels.push(halved(last));
  }
  return levels;
}

/** Each pixel the mean of two by two; an odd last row or column is left out. */
function halved({ widthPx, heightPx, pixels }: PixelGrid): PixelGrid {
  const [width, height] = [widthPx >> 1, heightPx >> 1];
  const half = new Uint32Array(width * height);
  for (let y = 0, at = 0; y < height; y++) {
    let above = 2 * y * widthPx;
    for (let x = 0; x < width; x++, above += 2) {
      const a = pixels[above]!;
      const b = pixels[above + 1]!;
      const c = pixels[above + widthPx]!;
      const d = pixels[above + widthPx + 1]!;
      // Two of the four bytes at a time, with room between them for the sums.
      const even = ((a & 0xff00ff) + (b & 0xff00ff) + (c & 0xff00ff) + (d & 0xff00ff) + 0x20002) >>> 2;
      const odd =
        (((a >>> 8) & 0xff00ff) +
          ((b >>> 8) & 0xff00ff) +
          ((c >>> 8) & 0xff00ff) +
          ((d >>> 8) & 0xff00ff) +
          0x20002) >>>
        2;
      half[at++] = ((even & 0xff00ff) | ((odd & 0xff00ff) << 8)) >>> 0;
    }
  }
  return { widthPx: width, heightPx: height, pixels: half };
}

/**
 * Draws rows of a warped picture: each pixel is taken, by bilinear interpolation, from where `toSource` leads its
 * middle; white where that is outside the picture or beyond its horizon. Where the picture is drawn smaller than it was
 * taken, the level of about the right size is used.
 * @param levels from `levelsFor`; pixels of `toSource` are those of the first
 * @param fromRow first row to draw
 * @param out the rows, `widthPx` pixels each; its length says how many
 */
export function warpRows(
  levels: readonly PixelGrid[],
  toSource: Homography,
  widthPx: number,
  fromRow: number,
  out: Uint32Array,
): void {
  const { widthPx: wholeWidth, heightPx: wholeHeight } = levels[0]!;
  const [a, b, c, d, e, f, g, h, i] = toSource;
  // Lengths on the picture per pixel drawn are (|det| / w^3)^(1/2); the weight below which they pass 1.5, 3, 6 ...
  const det = Math.abs(determinant(toSource));
  const belows = levels.map((_, level) =>
    level === 0 ? Infinity : Math.cbrt(det / (0.75 * 2 ** level) ** 2),
  );
  const rows = Math.floor(out.length / widthPx);
  let at = 0;
  for (let row = 0; row < rows; row++) {
    const v = fromRow + row + 0.5;
    for (let column = 0; column < widthPx; column++) {
      const u = column + 0.5;
      const w = g * u + h * v + i;
      const x = (a * u + b * v + c) / w;
      const y = (d * u + e * v + f) / w;
      if (!(w > 0 && x >= 0 && y >= 0 && x <= wholeWidth && y <= wholeHeight)) {
        out[at++] = WHITE;
        continue;
      }
      let level = 0;
      while (level + 1 < levels.length && w < belows[level + 1]!) level++;
      const grid = levels[level]!;
      const { widthPx: width, heightPx: height, pixels } = grid;
      const size = 1 << level;
      // From the corner of the picture to the middle of its first pixel.
      let left = x / size - 0.5;
      let top = y / size - 0.5;
      left = left < 0 ? 0 : left > width - 1 ? width - 1 : left;
      top = top < 0 ? 0 : top > height - 1 ? height - 1 : top;
      const x0 = left | 0;
      const y0 = top | 0;
      // In 256ths, so that two bytes of a pixel can be weighed at once.
      const right = ((left - x0) * 256) | 0;
      const down = ((top - y0) * 256) | 0;
      const first = y0 * width + x0;
      const step = x0 < width - 1 ? 1 : 0;
      const next = y0 < height - 1 ? width : 0;
      const p00 = pixels[first]!;
      const p10 = pixels[first + step]!;
      const p01 = pixels[first + next]!;
      const p11 = pixels[first + next + step]!;
      const l = 256 - right;
      const evenTop = ((Math.imul(p00 & 0xff00ff, l) + Math.imul(p10 & 0xff00ff, right)) >>> 8) & 0xff00ff;
      const evenLow = ((Math.imul(p01 & 0xff00ff, l) + Math.imul(p11 & 0xff00ff, right)) >>> 8) & 0xff00ff;
      const oddTop =
        ((Math.imul((p00 >>> 8) & 0xff00ff, l) + Math.imul((p10 >>> 8) & 0xff00ff, right)) >>> 8) & 0xff00ff;
      const oddLow =
        ((Math.imul((p01 >>> 8) & 0xff00ff, l) + Math.imul((p11 >>> 8) & 0xff00ff, right)) >>> 8) & 0xff00ff;
      const t = 256 - down;
      const even = ((Math.imul(evenTop, t) + Math.imul(evenLow, down)) >>> 8) & 0xff00ff;
      const odd = ((Math.imul(oddTop, t) + Math.imul(oddLow, down)) >>> 8) & 0xff00ff;
      out[at++] = (even | (odd << 8)) >>> 0;
    }
  }
}
