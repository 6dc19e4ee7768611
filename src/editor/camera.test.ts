import fc from 'fast-check';
import { expect, test } from 'vitest';
import { fitted, panned, toGround, toScreen, visibleBox, zoomed, type Camera } from './camera.ts';

const camera = fc.record({
  center: fc.tuple(
    fc.double({ min: -500, max: 500, noNaN: true }),
    fc.double({ min: -500, max: 500, noNaN: true }),
  ),
  pixelsPerMetre: fc.double({ min: 1, max: 1000, noNaN: true }),
  widthPx: fc.integer({ min: 100, max: 3000 }),
  heightPx: fc.integer({ min: 100, max: 3000 }),
}) as fc.Arbitrary<Camera>;
const pixel = fc.tuple(
  fc.double({ min: 0, max: 2000, noNaN: true }),
  fc.double({ min: 0, max: 2000, noNaN: true }),
);
const seed = 20;

test('ground and screen are each other’s inverse', () => {
  fc.assert(
    fc.property(camera, pixel, (c, px) => {
      const [x, y] = toScreen(c, toGround(c, px));
      expect(x).toBeCloseTo(px[0], 5);
      expect(y).toBeCloseTo(px[1], 5);
    }),
    { seed },
  );
});

test('zooming holds the place under the pointer', () => {
  fc.assert(
    fc.property(camera, pixel, fc.double({ min: 0.5, max: 2, noNaN: true }), (c, px, factor) => {
      const before = toGround(c, px);
      const after = toGround(zoomed(c, factor, px), px);
      expect(after[0]).toBeCloseTo(before[0], 6);
      expect(after[1]).toBeCloseTo(before[1], 6);
    }),
    { seed },
  );
});

test('panning moves a place by the same pixels', () => {
  const c: Camera = { center: [3, 4], pixelsPerMetre: 50, widthPx: 800, heightPx: 600 };
  const [x, y] = toScreen(c, [1, 1]);
  expect(toScreen(panned(c, 30, -20), [1, 1])).toEqual([x + 30, y - 20]);
});

test('a fitted box is wholly in view', () => {
  const c: Camera = { center: [0, 0], pixelsPerMetre: 1, widthPx: 800, heightPx: 300 };
  const view = visibleBox(fitted(c, { minX: 10, minY: 10, maxX: 14, maxY: 30 }));
  expect(view.minX).toBeLessThan(10);
  expect(view.maxX).toBeGreaterThan(14);
  expect(view.minY).toBeLessThan(10);
  expect(view.maxY).toBeGreaterThan(30);
});
