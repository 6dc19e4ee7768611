import { bad, good, type Result } from './result.ts';

/**
 * Numerals as people type them: whole numbers, decimals with a point or a comma, fractions, mixed numbers
 * (`2 1/2`, `2-1/2`). No marks between thousands, no exponents.
 */

const VULGAR: Record<string, string> = {
  '½': '1/2',
  '⅓': '1/3',
  '⅔': '2/3',
  '¼': '1/4',
  '¾': '3/4',
  '⅕': '1/5',
  '⅖': '2/5',
  '⅗': '3/5',
  '⅘': '4/5',
  '⅙': '1/6',
  '⅚': '5/6',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
};

/** Plain characters for the typographic ones: primes, quotes, minus signs, fractions, blanks. */
export function plainText(text: string): string {
  return text
    .replace(/\s+/g, ' ')
    .replace(/[′’‘ʹ´]/g, "'")
    .replace(/[″”“ʺ]/g, '"')
    .replaceAll("''", '"')
    .replace(/[−–‐‑]/g, '-')
    .replace(/⁄/g, '/')
    .replace(/[½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞]/g, (sign) => ` ${VULGAR[sign]}`)
    .replace(/\s+/g, ' ')
    .trim();
}

/** Source of an expression that takes up one numeral. */
export const NUMERAL = String.raw`\d+(?: |-)\d+ ?\/ ?\d+|\d+ ?\/ ?\d+|\d+[.,]\d+|\d+|[.,]\d+`;

/**
 * Reads one numeral; 0 or above. A comma with exactly three digits after a number of one to three digits is
 * refused: it may be meant as a thousand.
 */
export function parseNumeral(text: string, where: string): Result<number> {
  if (/^[1-9]\d{0,2},\d{3}$/.test(text)) {
    const [head, tail] = text.split(',');
    return bad(
      where,
      `"${text}" may mean ${head}${tail} or ${head}.${tail}`,
      `Type ${head}${tail} or ${head}.${tail}; no mark between thousands.`,
    );
  }
  const fraction = /^(?:(\d+)(?: |-))?(\d+) ?\/ ?(\d+)$/.exec(text);
  if (!fraction) return good(Number(text.replace(',', '.')));
  const [, whole, top, bottom] = fraction;
  if (Number(bottom) === 0) {
    return bad(where, `"${text}" divides by zero`, 'Type a fraction such as 1/2.');
  }
  if (whole !== undefined && Number(top) >= Number(bottom)) {
    return bad(
      where,
      `the fraction in "${text}" is one or more`,
      'Type a whole number and a fraction below one, such as 2 1/2.',
    );
  }
  return good(Number(whole ?? 0) + Number(top) / Number(bottom));
}
