import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { growthAt, mapped, weightAt } from '../../base/homography.ts';
import { distance, type Point } from '../../base/point.ts';
import type { PhotoMeasure, Rectification } from '../../plan/records.ts';
import { PHONE, seenBy, type Camera } from './camera-for-tests.ts';
import type { Four } from './figure.ts';
import { atSize, layFlat, type FlatPicture } from './flat-picture.ts';

const GROUND: Four = [
  [-1.5, 2.2],
  [1.5, 2.2],
  [2.2, 6],
  [-2.2, 6.5],
];
function taken(camera: Camera, ground: Four = GROUND): Rectification {
  const length = (a: number, b: number) => distance(ground[a]!, ground[b]!);
  return {
    source: { pictureId: 'taken', widthPx: camera.widthPx, heightPx: camera.heightPx },
    marks: ground.map((p) => seenBy(camera, p)) as unknown as Rectification['marks'],
    sidesM: [length(0, 1), length(1, 2), length(2, 3), length(3, 0)],
    diagonalsM: [length(0, 2), null],
  };
}
function flat(rectification: Rectification, lines: readonly PhotoMeasure[] = []): FlatPicture {
  const result = layFlat(rectification, lines);
  if (!result.ok) throw new Error(`${result.problem.where}: ${result.problem.what}`);
  return result.value;
}

describe('flat picture', () => {
  test('distances anywhere on the ground come out true, whatever the camera', () => {
    fc.assert(
      fc.property(
        fc.record({
          heightM: fc.double({ min: 1.5, max: 8, noNaN: true }),
          pitchDeg: fc.double({ min: 30, max: 80, noNaN: true }),
          rollDeg: fc.double({ min: -15, max: 15, noNaN: true }),
        }),
        fc.tuple(fc.double({ min: -2, max: 2, noNaN: true }), fc.double({ min: 1.5, max: 7, noNaN: true })),
        (by, place) => {
          const camera: Camera = { ...PHONE, ...by, focalPx: 1500 };
          const rectification = taken(camera);
          fc.pre(rectification.marks.every(([x, y]) => x >= 0 && y >= 0 && x <= 4000 && y <= 3000));
          const { toFlat, toSource, pixelsPerMetre } = flat(rectification);
          const px = seenBy(camera, place);
          const [one, other] = [mapped(toFlat, px), mapped(toFlat, seenBy(camera, GROUND[2]))];
          expect(distance(one, other) / pixelsPerMetre).toBeCloseTo(distance(place, GROUND[2]), 6);
          expect(distance(mapped(toSource, one), px)).toBeLessThan(1e-6);
        },
      ),
      { seed: 5_309, numRuns: 300 },
    );
  });
  test('it holds all of the used part, within 4096 px a side and 16 million', () => {
    const below: Four = [
      [-1, -1],
      [1, -1],
      [1, 1],
      [-1, 1],
    ];
    for (const pitchDeg of [15, 25, 40, 60, 90]) {
      const camera = { ...PHONE, pitchDeg, heightM: 4, focalPx: 1400 };
      const { toFlat, toSource, widthPx, heightPx, leftOut } = flat(
        taken(camera, pitchDeg === 90 ? below : GROUND),
      );
      expect(Math.max(widthPx, heightPx)).toBeLessThanOrEqual(4096);
      expect(widthPx * heightPx).toBeLessThanOrEqual(16.1e6);
      expect(leftOut).toBeGreaterThanOrEqual(0);
      expect(leftOut > 0).toBe(pitchDeg < 50);
      // The nearest corners of the picture are never left out.
      for (const corner of [
        [0, 3000],
        [4000, 3000],
      ] as const) {
        const [x, y] = mapped(toFlat, corner);
        expect(x).toBeGreaterThan(-1e-6);
        expect(y).toBeGreaterThan(-1e-6);
        expect(x).toBeLessThan(widthPx + 1e-6);
        expect(y).toBeLessThan(heightPx + 1e-6);
      }
      // Nothing that is drawn lies beyond the horizon.
      expect(weightAt(toSource, mapped(toFlat, [2000, 2000]))).toBeGreaterThan(0);
    }
  });
  test('the marks keep their sharpness where there is room', () => {
    const small = { ...PHONE, widthPx: 1000, heightPx: 750, focalPx: 750, pitchDeg: 60, heightM: 5 };
    const { toFlat } = flat(taken(small));
    expect(Math.min(...taken(small).marks.map((mark) => growthAt(toFlat, mark)))).toBeCloseTo(1, 9);
  });
  test('where there is not, far ground is left out until a pixel is a centimetre or the marks are half as sharp', () => {
    const steep = { ...PHONE, pitchDeg: 20, heightM: 4, focalPx: 1400 };
    const cut = flat(taken(steep));
    expect(cut.pixelsPerMetre).toBeGreaterThanOrEqual(100);
    // From twice as high all is half as large: half the sharpness is a lower bar than a centimetre.
    const far = GROUND.map(([x, y]): Point => [4 * x, 4 * y]) as unknown as Four;
    const high = taken({ ...steep, heightM: 16 }, far);
    const sharpness = Math.min(...high.marks.map((mark) => growthAt(flat(high).toFlat, mark)));
    expect(flat(high).pixelsPerMetre).toBeLessThan(100);
    expect(sharpness).toBeGreaterThan(0.38);
  });
  test('with the horizon on the picture the ground is used to 5 cm a pixel, within two and eight times the farthest mark', () => {
    const ground: Four = [
      [-2, 8],
      [2, 8],
      [2, 11],
      [-2, 11],
    ];
    // Metres of ground per pixel at the farthest mark and at the upper end of the flat picture.
    const ends = (scale: number, figure: Four, across = 4000) => {
      const camera = { ...PHONE, pitchDeg: 20, heightM: 4, focalPx: 1400 * scale };
      const sized = { ...camera, widthPx: across * scale, heightPx: 3000 * scale };
      const rectification = taken(sized, figure);
      const { toFlat, heightPx, pixelsPerMetre } = flat(rectification);
      const coarse = (p: Point) => growthAt(toFlat, p) / pixelsPerMetre;
      const used = Array.from({ length: 3000 }, (_, i): Point => [(across * scale) / 2, i * scale]).filter(
        (p) => {
          const y = mapped(toFlat, p)[1];
          return weightAt(toFlat, p) > 0 && y >= 0 && y <= heightPx;
        },
      );
      return { mark: Math.max(...rectification.marks.map(coarse)), end: Math.max(...used.map(coarse)) };
    };
    const usual = ends(1, ground);
    expect(usual.end / usual.mark).toBeGreaterThan(2);
    expect(usual.end).toBeLessThanOrEqual(0.05 + 1e-9);
    expect(usual.end).toBeGreaterThan(0.048);
    const poor = ends(0.1, ground);
    expect(poor.end / poor.mark).toBeLessThanOrEqual(2 + 1e-9);
    expect(poor.end / poor.mark).toBeGreaterThan(1.9);
    // Close by and narrow, so that there is room for all of it.
    const close = ground.map(([x, y]): Point => [x / 4, y / 4]) as unknown as Four;
    const near = ends(1, close, 800);
    expect(near.end / near.mark).toBeLessThanOrEqual(8 + 1e-9);
    expect(near.end / near.mark).toBeGreaterThan(7);
  });
  test('lines measured before are held against it, and the worst length is named', () => {
    const camera = PHONE;
    const line = (a: Point, b: Point, lengthM: number): PhotoMeasure => ({
      a: seenBy(camera, a),
      b: seenBy(camera, b),
      lengthM,
      role: 'fit',
    });
    const exact = flat(taken(camera));
    expect(exact.worst).toBeNull();
    expect(exact.diagonalsM[1]).toBeCloseTo(distance(GROUND[1], GROUND[3]), 9);
    const { worst, lengths } = flat(taken(camera), [
      line([-1, 3], [1, 3], 2),
      line([0, 2.5], [0, 5], 2.6),
      line([0, 2.5], [0, 2.5], 1),
    ]);
    expect(lengths.filter(({ of }) => of.kind === 'line')).toHaveLength(2);
    expect(worst?.of).toEqual({ kind: 'line', line: 1 });
    expect(worst?.residualPercent).toBeCloseTo((100 * (2.5 - 2.6)) / 2.6, 6);
  });
  test('marks outside the photo are refused', () => {
    const rectification = taken(PHONE);
    const result = layFlat({
      ...rectification,
      marks: [[-5, 10], ...rectification.marks.slice(1)] as unknown as Four,
    });
    expect(result.ok ? '' : result.problem.where).toBe('mark 1');
  });
  test('at a smaller size the same places meet', () => {
    const { toSource, widthPx } = flat(taken(PHONE));
    const small = atSize(toSource, 0.1, 0.125);
    const [x, y] = mapped(toSource, [widthPx / 2, 700]);
    const [u, v] = mapped(small, [(widthPx / 2) * 0.1, 70]);
    expect([u, v]).toEqual([expect.closeTo(x * 0.125, 6), expect.closeTo(y * 0.125, 6)]);
  });
});
