import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { IDENTITY, mapped, type Homography } from '../../base/homography.ts';
import { levelsFor, warpRows, type PixelGrid } from './warp.ts';

const WHITE = 0xffffffff;
const grey = (value: number): number => (0xff000000 | (value << 16) | (value << 8) | value) >>> 0;
const parts = (pixel: number) => [pixel & 255, (pixel >>> 8) & 255, (pixel >>> 16) & 255, pixel >>> 24];

function grid(widthPx: number, heightPx: number, at: (x: number, y: number) => number): PixelGrid {
  const pixels = new Uint32Array(widthPx * heightPx);
  for (let y = 0; y < heightPx; y++) for (let x = 0; x < widthPx; x++) pixels[y * widthPx + x] = at(x, y);
  return { widthPx, heightPx, pixels };
}
function warped(levels: readonly PixelGrid[], map: Homography, widthPx: number, heightPx: number) {
  const out = new Uint32Array(widthPx * heightPx);
  warpRows(levels, map, widthPx, 0, out);
  return out;
}

describe('warp', () => {
  test('without a change every pixel is as it was', () => {
    const picture = grid(7, 5, (x, y) => (0xff000000 | (x * 30) | ((y * 40) << 8) | ((x * y) << 16)) >>> 0);
    expect([...warped([picture], IDENTITY, 7, 5)]).toEqual([...picture.pixels]);
  });
  test('half a pixel to the side is the mean of two, in each colour', () => {
    const picture = grid(2, 1, (x) => (x === 0 ? 0xff0a1420 : 0xff1e3c40));
    const [first] = warped([picture], [1, 0, 0.5, 0, 1, 0, 0, 0, 1], 1, 1);
    expect(parts(first!)).toEqual([0x30, 0x28, 0x14, 255]);
  });
  test('a slope of grey stays the slope under any map, within two steps', () => {
    const picture = grid(256, 256, (x) => grey(x));
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 8, maxLength: 8 }),
        (by) => {
          const map: Homography = [
            1 + 0.3 * by[0]!,
            0.3 * by[1]!,
            20 * by[2]!,
            0.3 * by[3]!,
            1 + 0.3 * by[4]!,
            20 * by[5]!,
            2e-3 * by[6]!,
            2e-3 * by[7]!,
            1,
          ];
          const out = warped([picture], map, 200, 200);
          for (let y = 3; y < 200; y += 31) {
            for (let x = 3; x < 200; x += 31) {
              const [sx, sy] = mapped(map, [x + 0.5, y + 0.5]);
              const pixel = out[y * 200 + x]!;
              if (sx < 0 || sy < 0 || sx > 256 || sy > 256) expect(pixel).toBe(WHITE);
              else
                expect(Math.abs((pixel & 255) - Math.min(255, Math.max(0, sx - 0.5)))).toBeLessThanOrEqual(2);
            }
          }
        },
      ),
      { seed: 904, numRuns: 100 },
    );
  });
  test('outside the picture and beyond its horizon it is white', () => {
    const picture = grid(10, 10, () => grey(80));
    // The weight 1 - u / 5 turns to below zero right of u = 5, where the places would come in again from behind.
    const map: Homography = [1, 0, 0, 0, 1, 0, -1 / 5, 0, 1];
    const out = warped([picture], map, 20, 1);
    expect(out[0]).toBe(grey(80));
    expect([...out.slice(5)].every((pixel) => pixel === WHITE)).toBe(true);
    expect(warped([picture], [1, 0, -50, 0, 1, 0, 0, 0, 1], 3, 1)[0]).toBe(WHITE);
  });
  test('rows drawn in bands are the rows drawn at once', () => {
    const picture = grid(40, 30, (x, y) => grey((x * 7 + y * 11) % 256));
    const map: Homography = [0.9, 0.1, 2, -0.05, 1.1, 1, 1e-3, 2e-3, 1];
    const whole = warped([picture], map, 37, 29);
    const bands = new Uint32Array(37 * 29);
    for (let row = 0; row < 29; row += 4) {
      warpRows([picture], map, 37, row, bands.subarray(row * 37, Math.min(29, row + 4) * 37));
    }
    expect([...bands]).toEqual([...whole]);
  });
  test('drawn much smaller, fine stripes come out grey, not as stripes of their own', () => {
    const picture = grid(512, 512, (x) => grey(x % 2 ? 200 : 100));
    const smaller: Homography = [4.3, 0, 0, 0, 4.3, 0, 0, 0, 1];
    const spread = (levels: readonly PixelGrid[]) => {
      const out = [...warped(levels, smaller, 100, 4)].map((pixel) => pixel & 255);
      return Math.max(...out) - Math.min(...out);
    };
    expect(spread([picture])).toBeGreaterThan(50);
    expect(spread(levelsFor(picture, 4))).toBeLessThanOrEqual(2);
  });
  test('levels are means, keep every colour apart and end at one pixel', () => {
    const picture = grid(
      5,
      4,
      (x, y) => (0xff000000 | (x * 40) | ((255 - x * 40) << 8) | ((y * 60) << 16)) >>> 0,
    );
    const levels = levelsFor(picture, 9);
    expect(levels.map(({ widthPx, heightPx }) => [widthPx, heightPx])).toEqual([
      [5, 4],
      [2, 2],
      [1, 1],
    ]);
    expect(parts(levels[1]!.pixels[3]!)).toEqual([100, 155, 150, 255]);
  });
});
