import { describe, expect, test } from 'vitest';
import { Table } from '../base/table.ts';
import { polygonContains } from '../base/polygon.ts';
import { polar, type Point, type Ring } from '../base/point.ts';
import type { Area } from '../plan/records.ts';
import { dimensionMarks, sidesOf } from './dimensions.ts';
import type { TextMark } from './marks.ts';

/** An L of 6 x 4 m with a corner of 2 x 2 m taken out, counter-clockwise. */
const L_SHAPE: Ring = [
  [0, 0],
  [6, 0],
  [6, 2],
  [4, 2],
  [4, 4],
  [0, 4],
];

function bed(outline: Ring, holes: readonly Ring[] = [], use: Area['use'] = 'bed'): Table<Area> {
  return Table.of([{ id: 'a', use, name: '', outline, holes }]);
}

function textsOf(areas: Table<Area>): TextMark[] {
  return dimensionMarks(areas, 'metric').filter((mark) => mark.kind === 'text');
}

/** Middle of the figures on the ground, at 10 mm to the metre. */
function middleOf({ at, shiftMm, turnDeg, sizeMm }: TextMark): Point {
  const down = shiftMm![1] - 0.357 * sizeMm;
  return polar(at, -down / 10, turnDeg! + 90);
}

describe('sides of a ring', () => {
  test('go from corner to corner', () => {
    const lengths = sidesOf(L_SHAPE).map(({ a, b }) => Math.hypot(b[0] - a[0], b[1] - a[1]));
    expect(lengths.toSorted((p, q) => p - q)).toEqual([2, 2, 2, 4, 4, 6]);
  });

  test('are not divided by points on the way, wherever the ring begins', () => {
    const withPoints: Ring = [[3, 0], [5, 0.001], ...L_SHAPE.slice(1), [0, 3.2], [0, 0], [1, 0]];
    expect(sidesOf(withPoints)).toHaveLength(6);
  });

  test('a curve keeps its pieces', () => {
    const circle = Array.from({ length: 36 }, (_, i) => polar([0, 0], 2, i * 10));
    expect(sidesOf(circle)).toHaveLength(36);
  });

  test('fewer than three places have none', () => {
    expect(sidesOf([])).toEqual([]);
    expect(
      sidesOf([
        [0, 0],
        [1, 1],
        [1, 1],
      ]),
    ).toEqual([]);
  });
});

describe('dimensions of beds', () => {
  test.each([
    ['counter-clockwise', L_SHAPE],
    ['clockwise', L_SHAPE.toReversed()],
  ])('of a ring that runs %s stand outside the bed, level or rising to the reader', (_, outline) => {
    const texts = textsOf(bed(outline));
    expect(texts.map(({ text }) => text).toSorted()).toEqual([
      '2.00 m',
      '2.00 m',
      '2.00 m',
      '4.00 m',
      '4.00 m',
      '6.00 m',
    ]);
    for (const text of texts) {
      expect(polygonContains(outline, [], middleOf(text))).toBe(false);
      expect(text.turnDeg).toBeGreaterThan(-90);
      expect(text.turnDeg).toBeLessThanOrEqual(90);
      expect(text.owner).toBe('areas/a');
    }
  });

  test('those of a hole stand in the hole', () => {
    const hole: Ring = [
      [1, 1],
      [3, 1],
      [3, 2.5],
      [1, 2.5],
    ];
    for (const ring of [hole, hole.toReversed()]) {
      const texts = textsOf(bed(L_SHAPE, [ring])).slice(6);
      expect(texts).toHaveLength(4);
      for (const text of texts) expect(polygonContains(ring, [], middleOf(text))).toBe(true);
    }
  });

  test('say for which length they stand, so that they are left out where they do not fit', () => {
    for (const { text, fitM } of textsOf(bed(L_SHAPE))) expect(text).toBe(`${fitM!.toFixed(2)} m`);
  });

  test('paving and lawn have none', () => {
    expect(textsOf(bed(L_SHAPE, [], 'paving'))).toEqual([]);
    expect(textsOf(bed(L_SHAPE, [], 'lawn'))).toEqual([]);
  });
});
