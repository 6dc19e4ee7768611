import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { jsPDF } from 'jspdf';
import { describe, expect, test } from 'vitest';
import { BOLD_WIDTHS, REGULAR_WIDTHS } from './glyph-widths.ts';
import { printable, shortened, textWidth, wrapped, wrappedTo } from './lettering.ts';

const FONTS = '../../node_modules/@expo-google-fonts/noto-sans/';

function fontOf(path: string): jsPDF {
  const doc = new jsPDF({ unit: 'mm' });
  doc.addFileToVFS('f.ttf', readFileSync(new URL(FONTS + path, import.meta.url)).toString('latin1'));
  doc.addFont('f.ttf', 'F', 'normal');
  doc.setFont('F');
  doc.setFontSize(72);
  return doc;
}

describe('widths of letters', () => {
  test.each([
    ['regular', '400Regular/NotoSans_400Regular.ttf', REGULAR_WIDTHS, false],
    ['bold', '700Bold/NotoSans_700Bold.ttf', BOLD_WIDTHS, true],
  ] as const)('%s: as in the font that is printed with, sign by sign', (_, file, widths, bold) => {
    const doc = fontOf(file);
    expect(widths.size).toBeGreaterThan(300);
    for (const code of widths.keys()) {
      if (code === 0xad) continue;
      const sign = String.fromCodePoint(code);
      // At 72 points the type size is one inch.
      expect(textWidth(sign, 25.4, bold), code.toString(16)).toBeCloseTo(doc.getTextWidth(sign), 2);
    }
  });

  test('both weights know the same signs', () => {
    expect([...BOLD_WIDTHS.keys()]).toEqual([...REGULAR_WIDTHS.keys()]);
  });
});

describe('signs that can be printed', () => {
  test('letters with accents typed as two signs become one', () => {
    expect(printable('Nin\u0303o')).toEqual({ text: 'Niño', missing: [] });
  });

  test('signs that the font lacks are said otherwise where they can be', () => {
    expect(printable('⌀17 ≤ 3\nnext')).toEqual({ text: 'Ø17 <= 3 next', missing: [] });
  });

  test('all others are named and replaced', () => {
    expect(printable('松 tree 😀')).toEqual({ text: '? tree ?', missing: ['松', '😀'] });
  });
});

const text = fc.string({ unit: fc.constantFrom(...'abcWMil ñÉ.-\n'), maxLength: 120 });
const sure = { seed: 20260512, numRuns: 300 };

describe('fitting text', () => {
  test('shortened text is never wider than its room, and is left alone when it fits', () => {
    fc.assert(
      fc.property(text, fc.double({ min: 0.5, max: 60, noNaN: true }), fc.boolean(), (raw, room, bold) => {
        const short = shortened(raw, 3, bold, room);
        expect(textWidth(short, 3, bold)).toBeLessThanOrEqual(room + 1e-9);
        if (textWidth(raw, 3, bold) <= room) expect(short).toBe(raw);
        else if (short !== '') expect(short.endsWith('…')).toBe(true);
      }),
      sure,
    );
  });

  test('wrapped lines fit and hold every letter in order', () => {
    fc.assert(
      fc.property(text, fc.double({ min: 5, max: 60, noNaN: true }), (raw, room) => {
        const lines = wrapped(raw, 3, false, room);
        for (const line of lines) expect(textWidth(line, 3)).toBeLessThanOrEqual(room + 1e-9);
        expect(lines.join('').replace(/\s/g, '')).toBe(raw.replace(/\s/g, ''));
      }),
      sure,
    );
  });

  test('cut to a number of lines the last one says that more follows', () => {
    fc.assert(
      fc.property(text, fc.integer({ min: 1, max: 4 }), (raw, most) => {
        const { lines, whole } = wrappedTo(raw, 3, false, 20, most);
        expect(lines.length).toBeLessThanOrEqual(most);
        for (const line of lines) expect(textWidth(line, 3)).toBeLessThanOrEqual(20 + 1e-9);
        if (!whole) expect(lines.at(-1)!.endsWith('…')).toBe(true);
        expect(whole).toBe(wrapped(raw, 3, false, 20).length <= most);
      }),
      sure,
    );
  });
});
