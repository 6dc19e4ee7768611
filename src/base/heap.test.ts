import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Heap } from './heap.ts';

describe('heap', () => {
  test('gives keys in order, of equal keys the smaller number first, while things come and go', () => {
    const step = fc.oneof(
      fc.record({ push: fc.integer({ min: 0, max: 4000 }), key: fc.integer({ min: 0, max: 40 }) }),
      fc.constant('pop' as const),
    );
    fc.assert(
      fc.property(fc.array(step, { maxLength: 300 }), (steps) => {
        const heap = new Heap();
        const open: { number: number; key: number }[] = [];
        for (const one of steps) {
          if (one !== 'pop') {
            heap.push(one.push, one.key / 4);
            open.push({ number: one.push, key: one.key / 4 });
          } else if (open.length > 0) {
            open.sort((a, b) => a.key - b.key || a.number - b.number);
            expect(heap.least).toBe(open[0]!.key);
            expect(heap.pop()).toBe(open.shift()!.number);
          }
          expect(heap.least).toBe(Math.min(Infinity, ...open.map(({ key }) => key)));
        }
      }),
      { seed: 20261125, numRuns: 200 },
    );
  });

  test('grows beyond its first room', () => {
    const heap = new Heap();
    for (let i = 5000; i > 0; i--) heap.push(i, i % 7);
    let last = -1;
    for (let i = 0; i < 5000; i++) {
      const { least } = heap;
      expect(least).toBeGreaterThanOrEqual(last);
      last = least;
      heap.pop();
    }
    expect(heap.least).toBe(Infinity);
  });
});
