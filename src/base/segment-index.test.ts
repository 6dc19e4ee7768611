import { describe, expect, test } from 'vitest';
import fc from 'fast-check';
import type { Point } from './point.ts';
import { nearestOnSegment, segmentCrossing } from './polyline.ts';
import { SegmentIndex } from './segment-index.ts';

const JOINT = 0.01;
const index = (...paths: Point[][]) => new SegmentIndex(paths.map((path, i) => ({ id: `R${i + 1}`, path })));
const across: Point[] = [
  [0, 0],
  [4, 0],
];

describe('crossings', () => {
  test('two pieces cross in their middles', () => {
    const up: Point[] = [
      [1, -1],
      [1, 1],
    ];
    expect(index(across, up).crossings(JOINT)).toEqual([{ at: [1, 0], ids: ['R1', 'R2'] }]);
    expect(index(across).crossingsWith(up, JOINT)).toEqual([{ at: [1, 0], ids: ['R1', ''] }]);
  });
  test('a corner on the other is a joint, and so is an end', () => {
    const bent: Point[] = [
      [1, -1],
      [1, 0.005],
      [1, 1],
    ];
    const tee: Point[] = [
      [1, 0],
      [1, 1],
    ];
    expect(index(across, bent).crossings(JOINT)).toEqual([]);
    expect(index(across, tee).crossings(JOINT)).toEqual([]);
    expect(index(across, across).crossings(JOINT)).toEqual([]);
  });
  test('a path that crosses itself', () => {
    const loop: Point[] = [
      [0, 0],
      [4, 0],
      [4, 2],
      [2, 2],
      [2, -2],
    ];
    expect(index(loop).crossings(JOINT)).toEqual([{ at: [2, 0], ids: ['R1', 'R1'] }]);
  });
  test('nothing, single places and places that are no numbers', () => {
    expect(index().crossings(JOINT)).toEqual([]);
    expect(index([[0, 0]]).crossings(JOINT)).toEqual([]);
    expect(
      index(
        [
          [0, NaN],
          [1, 1],
        ],
        across,
      ).crossings(JOINT),
    ).toEqual([]);
    expect(
      index(across).crossingsWith(
        [
          [NaN, 0],
          [1, 1],
        ],
        JOINT,
      ),
    ).toEqual([]);
    expect(index(across).passing([2, 0.005], JOINT)).toEqual(['R1']);
    expect(index(across).passing([2, 0.02], JOINT)).toEqual([]);
  });
  test('finds what a search through all pairs finds', () => {
    const place = fc.tuple(fc.integer({ min: 0, max: 30 }), fc.integer({ min: 0, max: 30 }));
    const path = fc.array(place, { minLength: 2, maxLength: 5 });
    fc.assert(
      fc.property(fc.array(path, { minLength: 1, maxLength: 8 }), (cells) => {
        const paths = cells.map((list) => list.map(([x, y]): Point => [x, y]));
        const pieces = paths.flatMap((list, p) => list.slice(1).map((b, i) => ({ p, i, a: list[i]!, b })));
        let count = 0;
        pieces.forEach((m, i) =>
          pieces.slice(i + 1).forEach((n) => {
            if (m.p === n.p && Math.abs(m.i - n.i) <= 1) return;
            if (!segmentCrossing(m.a, m.b, n.a, n.b)) return;
            const joined =
              [m.a, m.b].some((q) => nearestOnSegment(n.a, n.b, q).distance <= JOINT) ||
              [n.a, n.b].some((q) => nearestOnSegment(m.a, m.b, q).distance <= JOINT);
            if (!joined) count += 1;
          }),
        );
        expect(index(...paths).crossings(JOINT)).toHaveLength(count);
      }),
      { seed: 12, numRuns: 200 },
    );
  });
  test('three thousand runs side by side with one across', () => {
    const rows = Array.from({ length: 3000 }, (_, i): Point[] => [
      [0, i],
      [100, i],
    ]);
    const found = index(...rows, [
      [50, -0.5],
      [50, 2999.5],
    ]).crossings(JOINT);
    expect(found).toHaveLength(3000);
  });
});
