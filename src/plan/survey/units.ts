import { NUMERAL, parseNumeral, plainText } from '../../base/numeral.ts';
import { parseQuantity, type QuantityKind } from '../../base/quantity.ts';
import { bad, good, type Result } from '../../base/result.ts';
import { unitTyped } from '../../base/units.ts';
import { shown } from '../check.ts';
import { isObject } from '../json.ts';

/** The three kinds of unit that a survey names. */
export type Kind = 'length' | 'flow' | 'pressure';

const QUANTITY: Record<Kind, QuantityKind> = { length: 'length', flow: 'zoneFlow', pressure: 'pressure' };

/** Units that people would write, for messages. */
const USUAL: Record<Kind, string> = {
  length: 'ft, in, yd, m, cm, mm',
  flow: 'gpm, gph, L/h, L/min, L/s, m3/h',
  pressure: 'psi, kPa, bar, mbar',
};

export interface Unit {
  readonly name: string;
  /** SI amount (m, L/h, kPa) in one of this unit. */
  readonly factor: number;
}

/** The unit of a kind by name, whatever its capitals; `null` when there is no such unit. */
export function unitNamed(kind: Kind, name: string): Unit | null {
  const si = unitTyped(QUANTITY[kind], name.replace(/^psig$/i, 'psi'))?.si;
  return typeof si === 'number' ? { name: name.trim(), factor: si } : null;
}

/** The units of a survey; `null` where the file names none. */
export interface SurveyUnits {
  readonly length: Unit;
  readonly flow: Unit | null;
  readonly pressure: Unit | null;
}

/** Reads `units`. A unit that is not known would make every figure wrong, so it refuses the file. */
export function readUnits(value: unknown): Result<SurveyUnits> {
  if (!isObject(value)) {
    return bad(
      'units',
      `is ${shown(value)} but must name the units`,
      'Add for example "units": {"length": "ft", "flow": "gpm", "pressure": "psi"}.',
    );
  }
  const found: { [K in Kind]: Unit | null } = { length: null, flow: null, pressure: null };
  for (const kind of ['length', 'flow', 'pressure'] as const) {
    const name = Object.hasOwn(value, kind) ? value[kind] : undefined;
    if (name === undefined || name === null) continue;
    found[kind] = typeof name === 'string' ? unitNamed(kind, name) : null;
    if (!found[kind]) {
      return bad(
        `units.${kind}`,
        `${shown(name)} is not a known unit of ${kind}`,
        `Use one of ${USUAL[kind]}.`,
      );
    }
  }
  if (!found.length) {
    return bad('units.length', 'the unit of length is missing', `Name one of ${USUAL.length}.`);
  }
  return good({ ...found, length: found.length });
}

const BARE = new RegExp(`^([-+]?) ?(${NUMERAL})$`);

/** A bare number written as text (`12.5`, `12,5`, `1-1/2`), or `null` when it is anything else. */
export function writtenNumber(text: string): number | null {
  const match = BARE.exec(plainText(text));
  if (!match) return null;
  const number = parseNumeral(match[2]!, 'number');
  if (!number.ok) return null;
  return match[1] === '-' ? -number.value : number.value;
}

/** A number written with its unit (`12 ft`, `12' 6"`, `8 gpm`) in SI, or `null` when it is anything else. */
export function writtenAmount(text: string, kind: Kind): number | null {
  const amount = parseQuantity(QUANTITY[kind], text, 'us');
  return amount.ok ? amount.value : null;
}
