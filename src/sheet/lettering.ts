import { BOLD_WIDTHS, REGULAR_WIDTHS } from './glyph-widths.ts';

/** Height of capitals as a share of the type size (Noto Sans). */
export const CAPITALS = 0.714;
/** Foot of letters such as g below the baseline, as a share of the type size. */
export const DESCENT = 0.24;

/** Signs that the font lacks, and what says the same. */
const INSTEAD: Readonly<Record<string, string>> = {
  '⌀': 'Ø',
  '∅': 'Ø',
  '≤': '<=',
  '≥': '>=',
  '≈': '~',
  '≠': '!=',
  '→': '->',
  '←': '<-',
  '\u00ad': '',
  '\u202f': '\u00a0',
  '\u2009': ' ',
};

export interface Printable {
  readonly text: string;
  /** Signs for which `?` stands now. */
  readonly missing: readonly string[];
}

/** The text on one line in signs that the printed font has; accents are joined to their letters. */
export function printable(raw: string): Printable {
  const missing: string[] = [];
  let text = '';
  for (const sign of raw.normalize('NFC').replace(/\p{Cc}+/gu, ' ')) {
    if (REGULAR_WIDTHS.has(sign.codePointAt(0)!) && sign !== '\u00ad') text += sign;
    else if (INSTEAD[sign] !== undefined) text += INSTEAD[sign];
    else {
      missing.push(sign);
      text += '?';
    }
  }
  return { text, missing };
}

/** Width on paper of one line of text as it will be printed, millimetres. */
export function textWidth(text: string, sizeMm: number, bold = false): number {
  const widths = bold ? BOLD_WIDTHS : REGULAR_WIDTHS;
  let sum = 0;
  for (const sign of printable(text).text) sum += widths.get(sign.codePointAt(0)!) ?? 1000;
  return (sum / 1000) * sizeMm;
}

const ELLIPSIS = '…';

/** The text if it is no wider than `maxMm`, else its longest beginning with an ellipsis; empty if not even that. */
export function shortened(text: string, sizeMm: number, bold: boolean, maxMm: number): string {
  if (textWidth(text, sizeMm, bold) <= maxMm) return text;
  const signs = [...text];
  let low = 0;
  let high = signs.length;
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (textWidth(signs.slice(0, middle).join('').trimEnd() + ELLIPSIS, sizeMm, bold) <= maxMm) low = middle;
    else high = middle - 1;
  }
  if (low > 0) return signs.slice(0, low).join('').trimEnd() + ELLIPSIS;
  return textWidth(ELLIPSIS, sizeMm, bold) <= maxMm ? ELLIPSIS : '';
}

/** Breaks text into lines no wider than `maxMm`, between words where it can; line breaks of the text are kept. */
export function wrapped(text: string, sizeMm: number, bold: boolean, maxMm: number): string[] {
  const lines: string[] = [];
  for (const paragraph of text.split(/\r\n|\r|\n/)) {
    let line = '';
    for (const word of paragraph.split(/[ \t]+/).filter((part) => part !== '')) {
      const longer = line === '' ? word : `${line} ${word}`;
      if (textWidth(longer, sizeMm, bold) <= maxMm) {
        line = longer;
        continue;
      }
      if (line !== '') lines.push(line);
      line = word;
      while (textWidth(line, sizeMm, bold) > maxMm) {
        const head = headThatFits(line, sizeMm, bold, maxMm);
        lines.push(head);
        line = line.slice(head.length);
      }
    }
    lines.push(line);
  }
  return lines;
}

/** The longest beginning of a word that fits, at least one sign. */
function headThatFits(word: string, sizeMm: number, bold: boolean, maxMm: number): string {
  let head = '';
  for (const sign of word) {
    if (head !== '' && textWidth(head + sign, sizeMm, bold) > maxMm) break;
    head += sign;
  }
  return head;
}

/** At most `most` lines of `wrapped` text; the last ends in an ellipsis when more would follow. */
export function wrappedTo(
  text: string,
  sizeMm: number,
  bold: boolean,
  maxMm: number,
  most: number,
): { readonly lines: readonly string[]; readonly whole: boolean } {
  const lines = wrapped(text, sizeMm, bold, maxMm);
  if (lines.length <= most) return { lines, whole: true };
  const kept = lines.slice(0, most);
  const last = `${kept[most - 1] ?? ''}${ELLIPSIS}`;
  kept[most - 1] = textWidth(last, sizeMm, bold) <= maxMm ? last : shortened(`${last} `, sizeMm, bold, maxMm);
  return { lines: kept, whole: false };
}
