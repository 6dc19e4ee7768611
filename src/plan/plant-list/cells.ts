import { NUMERAL, plainText } from '../../base/numeral.ts';
import { parseQuantity } from '../../base/quantity.ts';
import type { PlantClass, WaterUse } from '../records.ts';
import { notMeasured } from '../survey/fields.ts';
import { MOST_PLANTS } from './kinds.ts';
import { plantClassNamed, waterUseNamed } from './words.ts';

/** A cell as understood; `null` where it says nothing. The fault tells what is wrong and what to do. */
export type Cell<T> =
  | { readonly ok: true; readonly value: T | null }
  | { readonly ok: false; readonly what: string; readonly todo: string };

const value = <T>(read: T | null): Cell<T> => ({ ok: true, value: read });
const fault = (what: string, todo: string): Cell<never> => ({ ok: false, what, todo });

/** A cell as a message shows it, short. */
export function shownCell(text: string): string {
  const plain = text.replace(/\s+/g, ' ').trim();
  return `"${plain.length > 40 ? `${plain.slice(0, 37)}...` : plain}"`;
}

const BARE = new RegExp(`^[-+]? ?(?:${NUMERAL})$`);
const RANGE = /^[\d.,]+\s*\D{0,6}?\s*(?:-|to|bis|x|×)\s*[\d.,]+/i;

/** Smallest and largest length that a cell may hold, metres. */
export interface Bounds {
  readonly least: number;
  readonly most: number;
}

/**
 * A length in metres. A bare figure is in `unit` (a label of base/units.ts); a unit of its own goes before. Feet and
 * inches go together, as base/quantity.ts reads them.
 */
export function lengthCell(text: string, unit: string, bounds: Bounds): Cell<number> {
  if (notMeasured(text)) return value<number>(null);
  const plain = plainText(text);
  const bare = BARE.test(plain);
  const read = parseQuantity('length', bare ? `${plain} ${unit}` : plain, 'us');
  if (!read.ok) {
    return RANGE.test(plain)
      ? fault(`${shownCell(text)} is more than one figure`, 'Write one diameter, in a range the larger one.')
      : fault(read.problem.what, `Write a figure such as 4, 4 ft, 3' 6" or 1.2 m.`);
  }
  const { least, most } = bounds;
  if (read.value < least) {
    return fault(
      `${shownCell(text)} is ${least > 0 ? 'not above zero' : 'too small'}`,
      'Write the size as measured, or leave the cell empty.',
    );
  }
  if (read.value > most) {
    const inUnit = bare ? ` in ${unit}` : '';
    return fault(
      `${shownCell(text)}${inUnit} is more than ${most.toLocaleString('en-US')} m`,
      'Check the figure and the unit.',
    );
  }
  return value(read.value);
}

/** A whole number from zero, also as `12 ea`. */
export function countCell(text: string): Cell<number> {
  if (notMeasured(text)) return value<number>(null);
  const plain = plainText(text).replace(/ ?(?:ea|each|pcs?|plants?|no)\.?$/i, '');
  // Spreadsheets write 12.0 or 12,00; three zeros may be a thousand and are refused.
  const read = parseQuantity('count', plain.replace(/[.,]0{1,2}$/, ''), 'us');
  if (!read.ok)
    return fault(read.problem.what, 'Write a whole number such as 12, without a mark between thousands.');
  return read.value > MOST_PLANTS
    ? fault(`${shownCell(text)} is more than a million plants`, 'Check the figure.')
    : value(read.value);
}

export function classCell(text: string): Cell<PlantClass> {
  if (notMeasured(text)) return value<PlantClass>(null);
  const named = plantClassNamed(text);
  return named
    ? value(named)
    : fault(`${shownCell(text)} is not a plant class`, 'Write tree, shrub, perennial or ground cover.');
}

export function waterUseCell(text: string): Cell<WaterUse> {
  if (notMeasured(text)) return value<WaterUse>(null);
  const named = waterUseNamed(text);
  return named
    ? value(named)
    : fault(
        `${shownCell(text)} is not a water-use class`,
        'Write high, moderate, low or very low, or leave the cell empty.',
      );
}
