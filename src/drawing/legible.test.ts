import { expect, test } from 'vitest';
import { legible } from './legible.ts';
import type { TextMark } from './marks.ts';

const word = (text: string, at: TextMark['at'], more: Partial<TextMark> = {}): TextMark => ({
  kind: 'text',
  at,
  text,
  sizeMm: 3,
  ink: 'line',
  anchor: 'middle',
  ...more,
});

test('words apart stay as they are', () => {
  const words = [word('Header', [0, 0]), word('Row', [10, 0])];
  expect(legible(words, 10, false)).toEqual(words);
});

test('of two words in one place the smaller moves by a line', () => {
  const [first, second] = legible([word('Ring', [0, 0]), word('Bed', [0, 0], { sizeMm: 4 })], 10, false);
  expect(first).toMatchObject({ text: 'Bed', sizeMm: 4 });
  expect(first!.shiftMm).toBeUndefined();
  expect(Math.abs(second!.shiftMm![1])).toBeGreaterThan(3);
});

test('a word without room is left out, or kept where nothing may be lost', () => {
  const crowd = Array.from({ length: 12 }, (_, i) => word(`Run ${i}`, [0, 0]));
  expect(legible(crowd, 10, false).length).toBeLessThan(12);
  expect(legible(crowd, 10, true)).toHaveLength(12);
});

test('a larger scale gives room to more words', () => {
  const row = Array.from({ length: 40 }, (_, i) => word('Front row', [i * 0.2, 0]));
  expect(legible(row, 100, false).length).toBeGreaterThan(legible(row, 2, false).length);
});

test('a figure longer than its side is left out, even where all are kept', () => {
  const side = word('6.00 m', [0, 0], { fitM: 1 });
  expect(legible([side], 20, true)).toHaveLength(1);
  expect(legible([side], 5, true)).toEqual([]);
});

test('a word that may drop gives way, even where all are kept', () => {
  const tags = Array.from({ length: 12 }, (_, i) => word(`P${i}`, [0, 0], { mayDrop: true, sizeMm: 4 }));
  const placed = legible([...tags, word('Header', [0, 0])], 10, true);
  expect(placed[0]!.text).toBe('Header');
  expect(placed[0]!.shiftMm).toBeUndefined();
  expect(placed.length).toBeGreaterThan(1);
  expect(placed.length).toBeLessThan(13);
});

test('names of rows are left out on the screen where rows lie closer than letters are high, never on paper', () => {
  const row = word('Row 3', [0, 0], { acrossM: 0.45 });
  expect(legible([row], 8, false)).toHaveLength(1);
  expect(legible([row], 5, false)).toEqual([]);
  expect(legible([row], 5, true)).toHaveLength(1);
});
