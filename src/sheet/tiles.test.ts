import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Point } from '../base/point.ts';
import type { Mark } from '../drawing/marks.ts';
import { extentOf } from './extent.ts';
import { LAP_MM, tilesWithMarks, tilingOf } from './tiles.ts';

const WINDOW = { w: 180, h: 150 };
const coordinate = fc.double({ min: -40, max: 40, noNaN: true });
const place: fc.Arbitrary<Point> = fc.tuple(coordinate, coordinate);

function dot(at: Point): Mark {
  return { kind: 'symbol', name: 'dot', at, sizeMm: 1.5 };
}

describe('tiles', () => {
  test('every place drawn lies in a window that is printed, between its match lines', () => {
    fc.assert(
      fc.property(
        fc.array(place, { minLength: 1, maxLength: 30 }),
        fc.constantFrom(40, 20, 10, 5),
        (places, k) => {
          const marks = places.map(dot);
          const tiling = tilingOf(extentOf(marks, k)!, WINDOW, k);
          const printed = tilesWithMarks(tiling, marks, k);
          for (const [x, y] of places) {
            const seen = printed.filter(
              ({ cell }) => x >= cell.minX && x <= cell.maxX && y >= cell.minY && y <= cell.maxY,
            );
            expect(seen.length).toBeGreaterThanOrEqual(1);
            for (const { middle } of seen) {
              expect(Math.abs(x - middle[0]) * k).toBeLessThanOrEqual(WINDOW.w / 2);
              expect(Math.abs(y - middle[1]) * k).toBeLessThanOrEqual(WINDOW.h / 2);
            }
          }
        },
      ),
      { seed: 7, numRuns: 300 },
    );
  });

  test('cells lie side by side without gap or overlap and cover the extent', () => {
    const extent = { minX: -3, minY: -2, maxX: 41, maxY: 30 };
    const { columns, rows, tiles } = tilingOf(extent, WINDOW, 10);
    expect(tiles).toHaveLength(columns * rows);
    expect(columns).toBe(Math.ceil(440 / (180 - 2 * LAP_MM)));
    const xs = [...new Set(tiles.map(({ cell }) => cell.minX.toFixed(6)))];
    expect(xs).toHaveLength(columns);
    for (const { column, row, cell } of tiles) {
      const right = tiles.find((tile) => tile.column === column + 1 && tile.row === row);
      if (right) expect(right.cell.minX).toBeCloseTo(cell.maxX, 9);
      const below = tiles.find((tile) => tile.row === row + 1 && tile.column === column);
      if (below) expect(below.cell.maxY).toBeCloseTo(cell.minY, 9);
    }
    expect(Math.min(...tiles.map(({ cell }) => cell.minX))).toBeLessThanOrEqual(-3);
    expect(Math.max(...tiles.map(({ cell }) => cell.maxX))).toBeGreaterThanOrEqual(41);
    expect(Math.min(...tiles.map(({ cell }) => cell.minY))).toBeLessThanOrEqual(-2);
    expect(Math.max(...tiles.map(({ cell }) => cell.maxY))).toBeGreaterThanOrEqual(30);
  });

  test('a drawing that fits takes one sheet', () => {
    const extent = { minX: 0, minY: 0, maxX: 17, maxY: 14 };
    expect(tilingOf(extent, WINDOW, 10).tiles).toHaveLength(1);
    expect(tilingOf({ ...extent, maxX: 17.3 }, WINDOW, 10).tiles.length).toBeGreaterThan(1);
  });

  test('sheets of bare paper are left out', () => {
    const marks = [dot([0, 0]), dot([60, 60])];
    const tiling = tilingOf(extentOf(marks, 10)!, WINDOW, 10);
    expect(tiling.tiles.length).toBeGreaterThan(4);
    expect(tilesWithMarks(tiling, marks, 10)).toHaveLength(2);
  });

  test('a mark a world away does not fill the memory', () => {
    const { columns, tiles } = tilingOf({ minX: 0, minY: 0, maxX: 1e9, maxY: 1 }, WINDOW, 10);
    expect(columns).toBeGreaterThan(1e7);
    expect(tiles).toEqual([]);
  });
});
