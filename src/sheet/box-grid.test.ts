import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Box } from '../base/point.ts';
import { BoxGrid } from './box-grid.ts';

const coordinate = fc.double({ min: -200, max: 200, noNaN: true });
const size = fc.oneof(fc.double({ min: 0, max: 30, noNaN: true }), fc.constant(5000));
const anyBox: fc.Arbitrary<Box> = fc
  .tuple(coordinate, coordinate, size, size)
  .map(([minX, minY, w, h]) => ({ minX, minY, maxX: minX + w, maxY: minY + h }));

test('finds the same covered paper as looking at every pair', () => {
  fc.assert(
    fc.property(fc.array(anyBox, { maxLength: 30 }), fc.array(anyBox, { maxLength: 5 }), (kept, asked) => {
      const grid = new BoxGrid();
      kept.forEach((box) => grid.add(box));
      let sum = 0;
      for (const a of asked) {
        for (const b of kept) {
          const w = Math.min(a.maxX, b.maxX) - Math.max(a.minX, b.minX);
          const h = Math.min(a.maxY, b.maxY) - Math.max(a.minY, b.minY);
          sum += Math.max(0, w) * Math.max(0, h);
        }
      }
      expect(grid.covered(asked)).toBeCloseTo(sum, 5);
    }),
    { seed: 11, numRuns: 200 },
  );
});
