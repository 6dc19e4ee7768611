import { NUMERAL, parseNumeral, plainText } from '../../base/numeral.ts';
import { parseQuantity, type UnitSystem } from '../../base/quantity.ts';
import { bad, good, type Result } from '../../base/result.ts';

/** Units that water meters count in. */
export const METER_UNITS = ['gal', 'ft3', 'm3', 'L'] as const;
export type MeterUnit = (typeof METER_UNITS)[number];

/** A volume in litres: a bare number in the given unit, or with its own unit behind it. */
export function readVolume(text: string, unit: MeterUnit): Result<number> {
  const bare = /^[\d.,\s]+$/.test(text.trim());
  return parseQuantity('volume', bare && text.trim() !== '' ? `${text.trim()} ${unit}` : text, 'us');
}

export function readPressure(text: string, units: UnitSystem): Result<number> {
  return parseQuantity('pressure', text, units);
}

const CLOCK = /^(\d{1,4}):([0-5]?\d)$/;
const NUMBER = new RegExp(`^(?:${NUMERAL})$`);
const LONG = /^(.+?)\s*(s|sec|secs|seconds?|min|mins|minutes?|h|hours?)$/i;

/**
 * A time in seconds: `40`, `1:20` (minutes and seconds), `2 min`, `90 s`.
 * @param bare seconds in one of a bare number: 1 for seconds, 60 for minutes
 */
export function readTime(text: string, bare: 1 | 60): Result<number> {
  const plain = plainText(text);
  const todo = `Type for example ${bare === 1 ? '40 or 1:20' : '5 or 2:30'}.`;
  const clock = CLOCK.exec(plain);
  if (clock) return good(Number(clock[1]) * 60 + Number(clock[2]));
  const long = LONG.exec(plain);
  const factor = !long ? bare : /^s/i.test(long[2]!) ? 1 : /^m/i.test(long[2]!) ? 60 : 3600;
  const numeral = long ? long[1]! : plain;
  if (plain === '') return bad('time', 'no time was typed', todo);
  if (!NUMBER.test(numeral)) return bad('time', `"${text.trim()}" is not a time`, todo);
  const number = parseNumeral(numeral, 'time');
  return number.ok ? good(number.value * factor) : number;
}
