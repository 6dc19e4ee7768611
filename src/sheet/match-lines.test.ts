import { describe, expect, test } from 'vitest';
import { matchLines } from './match-lines.ts';
import type { PaperPart, PathPart, TextPart, View } from './page.ts';
import { partBox } from './projection.ts';
import { tilingOf } from './tiles.ts';

const WINDOW = { x: 10, y: 10, w: 180, h: 150 };
const tiling = tilingOf({ minX: 0, minY: 0, maxX: 30, maxY: 25 }, WINDOW, 10);
const [first] = tiling.tiles;
const numbers = new Map(tiling.tiles.map((tile, i) => [tile, i + 1]));
const view: View = { window: WINDOW, mmPerMetre: 10, middle: first!.middle };

const linesOf = (drawn: readonly PaperPart[] = []): PaperPart[] =>
  matchLines(first!, tiling, numbers, view, drawn, 1);
const textsOf = (parts: readonly PaperPart[]): TextPart[] => parts.filter((part) => part.kind === 'text');
const pathsOf = (parts: readonly PaperPart[]): PathPart[] => parts.filter((part) => part.kind === 'path');

describe('match lines', () => {
  test('nothing veils what lies beyond them', () => {
    expect(linesOf().some((part) => part.kind !== 'text' && 'fill' in part && part.fill)).toBe(false);
  });

  test('carry their words on the line, in a gap of it', () => {
    const parts = linesOf();
    expect(textsOf(parts).map(({ text }) => text)).toEqual([
      'Match line: see sheet 2',
      'Match line: see sheet 3',
    ]);
    const [right, foot] = textsOf(parts).map((text) => partBox(text)!);
    const east = WINDOW.x + WINDOW.w / 2 + (first!.cell.maxX - view.middle[0]) * 10;
    const south = WINDOW.y + WINDOW.h / 2 - (first!.cell.minY - view.middle[1]) * 10;
    expect(right!.minX).toBeLessThan(east);
    expect(right!.maxX).toBeGreaterThan(east);
    expect(foot!.minY).toBeLessThan(south);
    expect(foot!.maxY).toBeGreaterThan(south);
    for (const path of pathsOf(parts)) {
      const line = partBox(path)!;
      for (const words of [right!, foot!]) {
        const crosses =
          line.minX < words.maxX &&
          line.maxX > words.minX &&
          line.minY < words.maxY &&
          line.maxY > words.minY;
        expect(crosses).toBe(false);
      }
    }
  });

  test('the words step off a symbol that stands on the line', () => {
    const [, before] = textsOf(linesOf());
    const on: PaperPart = { kind: 'circle', at: before!.at, radiusMm: 1, fill: '#000000' };
    const [, after] = textsOf(linesOf([on]));
    expect(Math.abs(after!.at[0] - before!.at[0])).toBeGreaterThan(10);
    expect(after!.at[1]).toBeCloseTo(before!.at[1], 9);
  });
});
