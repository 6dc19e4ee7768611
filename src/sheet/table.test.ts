import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { TextPart } from './page.ts';
import { columnWidths, layTables, neededWidths, type Schedule } from './table.ts';
import { leastHeight, tableColumns, tablesIn } from './schedule-pages.ts';

const width = fc.double({ min: 1, max: 400, noNaN: true });

describe('column widths', () => {
  test('fill the table; no column is wider than it needs while another is short', () => {
    fc.assert(
      fc.property(fc.array(width, { minLength: 1, maxLength: 9 }), width, (needed, room) => {
        const widths = columnWidths(needed, room);
        const sum = (values: readonly number[]): number => values.reduce((all, each) => all + each, 0);
        expect(sum(widths)).toBeCloseTo(room, 6);
        expect(Math.min(...widths)).toBeGreaterThan(0);
        const short = widths.some((each, i) => each < needed[i]! - 1e-9);
        expect(short).toBe(sum(needed) > room + 1e-9);
        if (!short) return;
        const most = Math.max(...widths);
        widths.forEach((each, i) => {
          expect(each).toBeLessThanOrEqual(needed[i]! + 1e-9);
          if (each < needed[i]! - 1e-9) expect(each).toBeCloseTo(most, 6);
        });
      }),
      { seed: 5, numRuns: 300 },
    );
  });
});

function schedule(title: string, rows: number, cell = 'some words'): Schedule {
  return {
    title,
    columns: [
      { head: 'Name', align: 'left' },
      { head: 'Flow', align: 'right' },
    ],
    rows: Array.from({ length: rows }, (_, i) => ({ cells: [cell, `${title} ${i}`] })),
  };
}

const texts = (parts: readonly { readonly kind: string }[]): TextPart[] =>
  parts.filter((part): part is TextPart => part.kind === 'text');

describe('tables on a wide sheet', () => {
  const FRAME = { x: 10, y: 10, w: 390, h: 250 };

  test('stand in two columns and more, each wide enough for every line', () => {
    const schedules = [schedule('A', 5), schedule('B', 8, 'a rather long name of a run of tubing')];
    const columns = tableColumns(schedules, FRAME, 1.15);
    expect(columns.length).toBeGreaterThanOrEqual(2);
    for (const each of schedules) {
      const needed = neededWidths(each, 1.15).reduce((sum, one) => sum + one, 0);
      expect(needed).toBeLessThanOrEqual(columns[0]!.w);
    }
  });

  test('a cell is not broken where there is room', () => {
    const cell = 'broadleaf evergreen, planted last spring';
    const parts = tablesIn([schedule('A', 3, cell)], FRAME, 1.15)!;
    expect(texts(parts).filter(({ text }) => text === cell)).toHaveLength(3);
  });

  test('one enormous name does not cost the others their column', () => {
    expect(tableColumns([schedule('A', 3, 'word '.repeat(200))], FRAME, 1).length).toBeGreaterThanOrEqual(2);
  });
});

describe('going on in the next room', () => {
  const rooms = (h: number): (() => { frame: typeof FRAME; page: number }) => {
    const FRAME_H = { ...FRAME, h };
    let page = 0;
    return () => ({ frame: FRAME_H, page: page++ });
  };
  const FRAME = { x: 0, y: 0, w: 120, h: 0 };

  test('a short table is kept together', () => {
    const laid = layTables([schedule('A', 6), schedule('B', 6)], rooms(60), 1);
    const pagesOf = (name: string): Set<number> =>
      new Set(
        laid
          .filter(({ parts }) => texts(parts).some(({ text }) => text.startsWith(`${name} `)))
          .map(({ page }) => page),
      );
    expect([...pagesOf('A')]).toEqual([0]);
    expect([...pagesOf('B')]).toEqual([1]);
  });

  test('a long one is divided between rows and none is lost', () => {
    const laid = layTables([schedule('A', 50)], rooms(60), 1);
    const rows = laid.flatMap(({ parts }) => texts(parts)).filter(({ text }) => /^A \d+$/.test(text));
    expect(rows.map(({ text }) => text)).toEqual(Array.from({ length: 50 }, (_, i) => `A ${i}`));
    expect(Math.max(...laid.map(({ page }) => page))).toBeGreaterThan(2);
    for (const { at } of rows) expect(at[1]).toBeLessThan(60);
  });
});

test('schedules never stand in less height than the least', () => {
  const schedules = [
    schedule('A', 5),
    schedule('B', 30),
    schedule('C', 17, 'a longer text that stands alone'),
  ];
  for (const w of [120, 260, 500]) {
    const frame = { x: 0, y: 0, w, h: 0 };
    const least = leastHeight(schedules, frame, 1);
    expect(least).toBeGreaterThan(20);
    for (let h = 20; h < least; h += 7) expect(tablesIn(schedules, { ...frame, h }, 1)).toBeNull();
    expect(tablesIn(schedules, { ...frame, h: 3 * least + 50 }, 1)).not.toBeNull();
  }
});
