import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { LONGEST_SIDE_PX, levelFor, levelSize, storedSize } from './picture-levels.ts';

describe('sizes of a stored picture', () => {
  test('a picture that fits is kept as it is', () => {
    expect(storedSize({ widthPx: 4000, heightPx: 3000 })).toEqual({ widthPx: 4000, heightPx: 3000 });
    expect(storedSize({ widthPx: 4096, heightPx: 1 })).toEqual({ widthPx: 4096, heightPx: 1 });
  });

  test('a larger one is scaled to the limit, its proportions kept within a pixel', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 30_000 }),
        fc.integer({ min: 1, max: 30_000 }),
        (widthPx, heightPx) => {
          const stored = storedSize({ widthPx, heightPx });
          const scale = Math.min(1, LONGEST_SIDE_PX / Math.max(widthPx, heightPx));
          expect(Math.max(stored.widthPx, stored.heightPx)).toBeLessThanOrEqual(LONGEST_SIDE_PX);
          expect(Math.abs(stored.widthPx - widthPx * scale)).toBeLessThan(1);
          expect(Math.abs(stored.heightPx - heightPx * scale)).toBeLessThan(1);
        },
      ),
      { seed: 20261125 },
    );
  });

  test('levels halve and never vanish', () => {
    expect([0, 1, 2, 3].map((level) => levelSize({ widthPx: 2000, heightPx: 5 }, level))).toEqual([
      { widthPx: 2000, heightPx: 5 },
      { widthPx: 1000, heightPx: 3 },
      { widthPx: 500, heightPx: 1 },
      { widthPx: 250, heightPx: 1 },
    ]);
  });
});

describe('the level for a zoom', () => {
  test.each([
    [4, 0],
    [1, 0],
    [0.51, 0],
    [0.5, 1],
    [0.3, 1],
    [0.25, 2],
    [0.125, 3],
    [0.001, 3],
    [0, 3],
    [Number.NaN, 3],
    [Infinity, 0],
  ])('at %d screen pixels for a picture pixel is %d', (zoom, level) => {
    expect(levelFor(zoom)).toBe(level);
  });

  test('is never coarser than the screen while a finer one exists, nor finer than needed', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-4, max: 64, noNaN: true }), (zoom) => {
        const level = levelFor(zoom);
        if (level > 0) expect(2 ** -level).toBeGreaterThanOrEqual(zoom * (1 - 1e-5));
        if (level < 3) expect(2 ** -(level + 1)).toBeLessThan(zoom * (1 + 1e-5));
      }),
      { seed: 20261125 },
    );
  });
});
