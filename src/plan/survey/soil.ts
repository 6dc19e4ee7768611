import type { Climate, Soil } from '../records.ts';
import { emptyPlan } from '../empty.ts';
import { shown } from '../check.ts';
import { isObject } from '../json.ts';
import { Fields, notMeasured, type SurveyContext } from './fields.ts';

const MM_PER_IN = 25.4;

/** Jar test, texture, intake and roots; intake and root depth carry their unit in the field's name. */
export function readSoil(value: unknown, coverValue: unknown, context: SurveyContext): Soil {
  const fields = context.fields(value ?? {}, 'soil') ?? new Fields({}, 'soil', context);
  const percent = (name: string): number | null => {
    const share = fields.number(name, `${name}percent`);
    if (share === null || (share >= 0 && share <= 100)) return share;
    fields.fault(name, share, 'must be from 0 to 100 percent', 'It counts as not measured: type it again.');
    return null;
  };
  const soil = {
    ...emptyPlan().soil,
    texture: fields.text('texture'),
    sandPercent: percent('sand'),
    siltPercent: percent('silt'),
    clayPercent: percent('clay'),
    intakeMmPerH: scaled(fields, { intakeInPerH: MM_PER_IN, intakeMmPerH: 1, intakeCmPerH: 10 }),
    rootDepthM: scaled(fields, {
      rootDepthIn: MM_PER_IN / 1000,
      rootDepthFt: 0.3048,
      rootDepthCm: 0.01,
      rootDepthMm: 0.001,
      rootDepthM: 1,
    }),
    compacted: fields.yesNo('compacted'),
    cover: readCover(notMeasured(coverValue) ? fields.take('cover') : coverValue),
  };
  fields.close();
  const shares = [soil.sandPercent, soil.siltPercent, soil.clayPercent];
  const sum = shares.reduce<number>((total, share) => total + (share ?? 0), 0);
  if (!shares.includes(null) && Math.abs(sum - 100) > 2) {
    context.notices.add(
      'soil',
      `sand, silt and clay add up to ${+sum.toFixed(1)} percent`,
      'Check the jar test.',
    );
  }
  return soil;
}

/** The first of the fields that is there, by its own factor; `null` when none is measured. */
function scaled(fields: Fields, factors: Readonly<Record<string, number>>): number | null {
  for (const [name, factor] of Object.entries(factors)) {
    if (!fields.has(name)) continue;
    const number = fields.number(name);
    if (number === null) continue;
    if (number >= 0) return number * factor;
    fields.fault(name, number, 'must not be negative', 'It counts as not measured: type it again.');
  }
  return null;
}

/** Mulch, gravel, fabric: words as they are, an object or a list as words. */
function readCover(value: unknown): string | null {
  if (notMeasured(value)) return null;
  if (value === true || value === false) return value ? 'yes' : 'none';
  if (typeof value === 'string') return value.trim();
  if (typeof value === 'number') return String(value);
  if (Array.isArray(value)) {
    const parts = value.map((part) => readCover(part)).filter((part) => part !== null);
    return parts.length ? parts.join('; ') : null;
  }
  if (!isObject(value)) return shown(value);
  const parts = Object.entries(value).flatMap(([key, part]) => {
    const text = readCover(part);
    return text === null ? [] : [`${key}: ${text}`];
  });
  return parts.length ? parts.join('; ') : null;
}

/** Lowest winter temperature in C, from a field whose name ends in F or C or whose text does; the rest as words. */
export function readClimate(value: unknown, temperatureUnit: unknown, context: SurveyContext): Climate {
  if (typeof value === 'string') return { lowestWinterC: null, note: notMeasured(value) ? '' : value.trim() };
  const fields = context.fields(value, 'climate');
  if (!fields) return { lowestWinterC: null, note: '' };
  let lowestWinterC: number | null = null;
  const notes: string[] = [];
  const inFile =
    typeof temperatureUnit === 'string' ? /([fc])\s*$/i.exec(temperatureUnit)?.[1]?.toUpperCase() : null;
  for (const [key, part] of fields.rest()) {
    fields.take(key);
    if (notMeasured(part)) continue;
    const written =
      typeof part === 'string' ? /^\s*(-?\d+(?:\.\d+)?)\s*(?:\u00b0|deg)?\s*([FC]?)\b/i.exec(part) : null;
    const number = typeof part === 'number' ? part : written ? Number(written[1]) : null;
    const unit = written?.[2]?.toUpperCase() || /(?<=[a-z_\d])([FC])$/.exec(key)?.[1] || inFile;
    const isLowest = /low|winter|min|frost|cold/i.test(key) && !/date|day|depth|month/i.test(key);
    const celsius = number === null || !unit ? null : unit === 'F' ? ((number - 32) * 5) / 9 : number;
    if (isLowest && celsius !== null && lowestWinterC === null && Math.abs(celsius) <= 100) {
      lowestWinterC = celsius;
      continue;
    }
    notes.push(`${key}: ${typeof part === 'string' ? part : JSON.stringify(part)}`);
    if (isLowest && number !== null && !unit) {
      context.notices.add(
        fields.place(key),
        `${shown(part)} is neither marked F nor C`,
        'It is kept as a note: type it with its unit.',
      );
    }
  }
  return { lowestWinterC, note: notes.join('; ') };
}
