import { NUMERAL, parseNumeral, plainText } from './numeral.ts';
import { bad, good, type Problem, type Result } from './result.ts';
import { FOOT_M, KINDS, kindWordOfUnit, shownUnit, unitTyped } from './units.ts';
import type { QuantityKind, Unit, UnitSystem } from './units.ts';

export type { QuantityKind, UnitSystem } from './units.ts';

/** Beyond this a typed value is taken for a slip of the keys. */
const LARGEST = 1e12;

const WITH_UNIT = new RegExp(`^([-+]?) ?(${NUMERAL}) ?(.*)$`);
const FEET_INCHES = new RegExp(
  String.raw`^([-+]?) ?(${NUMERAL}) ?(?:'|ft\.?|feet|foot|pies?) ?-? ?(${NUMERAL}) ?(?:"|in\.?|inch|inches|pulg\.?|pulgadas?)?$`,
  'i',
);

/**
 * Reads a quantity as typed, into the inside unit of its kind. A bare number is in the system's own unit; any
 * unit of the kind may be typed in either system. Point and comma both mark decimals; marks between thousands
 * are refused. Feet and inches go together (`12' 6 1/2"`). A sign is read where the kind can be negative.
 */
export function parseQuantity(kind: QuantityKind, text: string, units: UnitSystem): Result<number> {
  const { word, signed = false, whole = false, examples } = KINDS[kind];
  const hint = `Type for example ${examples[units]}.`;
  const plain = plainText(text);
  if (plain === '') return bad(word, `no ${word} was typed`, hint);

  const read =
    kind === 'slope' && plain.includes(':') ? parseRatio(plain, hint) : parsePlain(kind, plain, units);
  if (!read.ok) return read;
  const value = read.value === 0 ? 0 : read.value;
  if (Math.abs(value) > LARGEST || !Number.isFinite(value)) {
    return bad(word, `"${text.trim()}" is too large`, hint);
  }
  if (!signed && plain.startsWith('-')) {
    return bad(word, `"${text.trim()}" is below zero; a ${word} here is zero or more`, hint);
  }
  if (whole && !Number.isInteger(value)) {
    return bad(word, `"${text.trim()}" is not a whole number`, hint);
  }
  return good(value);
}

function parsePlain(kind: QuantityKind, plain: string, units: UnitSystem): Result<number> {
  const { word, examples } = KINDS[kind];
  const hint = `Type for example ${examples[units]}.`;
  const foot = unitTyped(kind, 'ft');
  const both = foot ? FEET_INCHES.exec(plain) : null;
  if (foot && both) return parseFeetInches(both, word, foot);

  const parts = WITH_UNIT.exec(plain);
  if (!parts) return bad(word, `"${plain}" does not begin with a number`, hint);
  const [, sign, numeral, rest = ''] = parts;
  const problem = restProblem(kind, plain, rest, hint);
  if (problem) return { ok: false, problem };
  const number = parseNumeral(numeral!, word);
  if (!number.ok) return number;
  const unit = rest === '' ? shownUnit(kind, units) : unitTyped(kind, rest)!;
  return good(toInside(unit, sign === '-' ? -number.value : number.value));
}

/** Why what follows the number cannot stand, or null. */
function restProblem(kind: QuantityKind, plain: string, rest: string, todo: string): Problem | null {
  const where = KINDS[kind].word;
  if (rest === '' || unitTyped(kind, rest)) return null;
  if (/^[.,]\d/.test(rest)) {
    return {
      where,
      what: `"${plain}" has more than one decimal mark`,
      todo: `${todo} No mark between thousands.`,
    };
  }
  if (/^[.,]/.test(rest)) {
    return { where, what: `"${plain}" has a decimal mark without digits after it`, todo };
  }
  if (/^\d/.test(rest)) {
    return { where, what: `"${plain}" holds two numbers`, todo: `${todo} No blank between thousands.` };
  }
  const other = kindWordOfUnit(rest);
  if (other && other !== where) {
    return { where, what: `"${rest}" is a unit of ${other}, and this is a ${where}`, todo };
  }
  return { where, what: `"${rest}" is not a unit of ${where} known here`, todo };
}

function parseFeetInches(parts: RegExpExecArray, where: string, foot: Unit): Result<number> {
  const [all, sign, feetText, inchText] = parts;
  const feet = parseNumeral(feetText!, where);
  if (!feet.ok) return feet;
  const inches = parseNumeral(inchText!, where);
  if (!inches.ok) return inches;
  if (!Number.isInteger(feet.value)) {
    return bad(
      where,
      `"${all}" has a part of a foot and inches too`,
      `Type whole feet and inches, such as 12' 6".`,
    );
  }
  if (inches.value >= 12) {
    return bad(
      where,
      `"${all}" has ${inchText} inches, a foot or more`,
      `Type inches below 12, such as 12' 6".`,
    );
  }
  const value = toInside(foot, feet.value + inches.value / 12);
  return good(sign === '-' ? -value : value);
}

/** A slope as rise to run, such as `1:50`; percent. */
function parseRatio(plain: string, hint: string): Result<number> {
  const parts = new RegExp(`^([-+]?) ?(${NUMERAL}) ?: ?(${NUMERAL})$`).exec(plain);
  if (!parts) return bad('slope', `"${plain}" is not a rise and a run`, hint);
  const rise = parseNumeral(parts[2]!, 'slope');
  if (!rise.ok) return rise;
  const run = parseNumeral(parts[3]!, 'slope');
  if (!run.ok) return run;
  if (run.value === 0) return bad('slope', `"${plain}" has a run of zero`, hint);
  const percent = (100 * rise.value) / run.value;
  return good(parts[1] === '-' ? -percent : percent);
}

function toInside(unit: Unit, value: number): number {
  return typeof unit.si === 'number' ? value * unit.si + (unit.zeroAt ?? 0) : unit.si(value);
}

/** The value in the unit in which it is shown, as a number; for axes, tables and files. */
export function shownValue(kind: QuantityKind, value: number, units: UnitSystem): number {
  const { si, zeroAt = 0 } = shownUnit(kind, units);
  // Shown units are all in proportion from their zero; the test of every kind holds that.
  return typeof si === 'number' ? (value - zeroAt) / si : NaN;
}

/**
 * A limit as text, rounded to three figures to the inside of it in the units shown, so that limits set in metres do not
 * read as odd inches: 3 m at most is 118 in.
 */
export function formatBound(
  kind: QuantityKind,
  value: number,
  units: UnitSystem,
  side: 'least' | 'most',
): string {
  const shown = shownValue(kind, value, units);
  if (!Number.isFinite(shown) || shown === 0) return formatQuantity(kind, value, units);
  const size = Math.floor(Math.log10(Math.abs(shown)) + 1e-12);
  const isFeet = kind === 'length' && units === 'us';
  const own = KINDS[kind].digits[units];
  const digits = typeof own === 'number' ? own : own[Math.abs(shown) < 10 ? 0 : 1];
  const plain = Math.max(10 ** (size < 1 ? size - 1 : Math.max(0, size - 2)), 10 ** -digits);
  const step = isFeet && size < 1 ? 1 / 12 : plain;
  const steps = shown / step;
  const inside = (side === 'least' ? Math.ceil(steps - 1e-6) : Math.floor(steps + 1e-6)) * step;
  if (inside === 0) return formatQuantity(kind, value, units);
  return formatQuantity(kind, toInside(shownUnit(kind, units), inside), units);
}

/** Name of the unit in which a kind is shown, such as `gph`; empty for a count. */
export function unitLabel(kind: QuantityKind, units: UnitSystem): string {
  return shownUnit(kind, units).label;
}

export interface FormatOptions {
  /** Digits after the mark, in place of the kind's own. Lengths then are shown in decimal feet. */
  readonly digits?: number;
  /** Whether the unit follows the number; true unless told. Lengths without are decimal feet. */
  readonly unit?: boolean;
}

/**
 * Shows a value (inside unit) for reading: US lengths as feet and inches to the nearest quarter inch, all else
 * as a decimal with the kind's usual digits. What is not a number is shown as a dash.
 */
export function formatQuantity(
  kind: QuantityKind,
  value: number,
  units: UnitSystem,
  options: FormatOptions = {},
): string {
  if (!Number.isFinite(value)) return '–';
  const withUnit = options.unit ?? true;
  if (kind === 'length' && units === 'us' && withUnit && options.digits === undefined) {
    return feetAndInches(value, 4);
  }
  const { digits: usual, trim = false } = KINDS[kind];
  const shown = shownValue(kind, value, units);
  const own = usual[units];
  const digits = options.digits ?? (typeof own === 'number' ? own : own[Math.abs(shown) < 10 ? 0 : 1]);
  const number = decimal(shown, digits, trim && options.digits === undefined);
  return withUnit ? number + unitTail(kind, units) : number;
}

/**
 * Shows a value for editing: reading it again gives the value back within a ten-millionth of it. US lengths that
 * fall on a sixteenth of an inch are feet and inches. Empty for what is not a number.
 */
export function formatExact(kind: QuantityKind, value: number, units: UnitSystem): string {
  if (!Number.isFinite(value)) return '';
  const close = (other: number): boolean => Math.abs(other - value) <= Math.abs(value) * 1e-7 + 1e-12;
  if (kind === 'length' && units === 'us') {
    const sixteenths = Math.round((value / FOOT_M) * 192);
    if (close((sixteenths / 192) * FOOT_M)) return feetAndInches(value, 16);
  }
  const shown = shownValue(kind, value, units);
  const unit = shownUnit(kind, units);
  const first = shown === 0 ? 0 : -Math.floor(Math.log10(Math.abs(shown)));
  for (let digits = 0; digits <= Math.min(first + 14, 90); digits++) {
    const text = decimal(shown, digits, true);
    if (close(toInside(unit, Number(text)))) return text + unitTail(kind, units);
  }
  return decimal(shown, 0, true) + unitTail(kind, units);
}

function unitTail(kind: QuantityKind, units: UnitSystem): string {
  const label = unitLabel(kind, units);
  return label === '' || label === '°' || label === '%' ? label : ` ${label}`;
}

/** A decimal without exponent and without a minus before zero. */
function decimal(value: number, digits: number, trim: boolean): string {
  const fixed = value.toFixed(digits);
  const text = trim && fixed.includes('.') ? fixed.replace(/\.?0+$/, '') : fixed;
  return /^-0(?:\.0*)?$/.test(text) ? text.slice(1) : text;
}

/** Feet, inches and a fraction to the nearest `1/parts` inch: `12' 6 1/4"`, `9"`, `-1' 0"`. */
function feetAndInches(valueM: number, parts: number): string {
  const steps = Math.round((Math.abs(valueM) / FOOT_M) * 12 * parts);
  const feet = Math.floor(steps / (12 * parts));
  const inches = Math.floor((steps % (12 * parts)) / parts);
  let top = steps % parts;
  let bottom = parts;
  while (top > 0 && top % 2 === 0) {
    top /= 2;
    bottom /= 2;
  }
  const fraction = top > 0 ? `${top}/${bottom}` : '';
  const inchText = inches > 0 || !fraction ? `${inches}${fraction && ` ${fraction}`}` : fraction;
  const sign = valueM < 0 && steps > 0 ? '-' : '';
  return `${sign}${feet > 0 ? `${feet}' ` : ''}${inchText}"`;
}
