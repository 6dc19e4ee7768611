import type { Climate, Soil } from '../records.ts';
import { emptyPlan } from '../empty.ts';
import { shown } from '../check.ts';
import { isObject } from '../json.ts';
import { coverFacts } from './cover.ts';
import { Fields, notMeasured, type SurveyContext } from './fields.ts';
import { writtenAmount, writtenNumber } from './units.ts';

const MM_PER_IN = 25.4;

/** Jar test, ribbon, texture, intake, roots and cover; lengths and rates carry their unit in the field's name. */
export function readSoil(value: unknown, coverValue: unknown, context: SurveyContext): Soil {
  const fields = context.fields(value ?? {}, 'soil') ?? new Fields({}, 'soil', context);
  const percent = (name: string): number | null => {
    const share = fields.number(name, `${name}percent`);
    if (share === null || (share >= 0 && share <= 100)) return share;
    fields.fault(name, share, 'must be from 0 to 100 percent', 'It counts as not measured: type it again.');
    return null;
  };
  const cover = readCover(notMeasured(coverValue) ? fields.take('cover') : coverValue);
  const { kind: coverKind, depthM: coverDepthM } = cover === null ? NO_COVER : coverFacts(cover);
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
    ribbonM: readRibbon(fields),
    fabricIntakeMmPerH: scaled(fields, {
      fabricIntakeInPerH: MM_PER_IN,
      fabricIntakeMmPerH: 1,
      fabricIntakeCmPerH: 10,
    }),
    cover,
    coverKind,
    coverDepthM,
  };
  if (cover !== null && coverKind === null) {
    context.notices.add(
      'cover',
      `${shown(cover)} is kept as words, but its kind was not recognised`,
      'Choose the kind of cover in Survey, under Soil.',
    );
  }
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

const NO_COVER = { kind: null, depthM: null } as const;

/** Longest ribbon that is believed, metres. */
const LONGEST_RIBBON_M = 1;

/** Length of the ribbon, metres, 0 for none; a field `ribbon` is a text with its unit or the word none. */
function readRibbon(fields: Fields): number | null {
  const named = scaled(fields, {
    ribbonIn: MM_PER_IN / 1000,
    ribbonCm: 0.01,
    ribbonMm: 0.001,
    ribbonM: 1,
  });
  const value = fields.take('ribbon');
  if (named !== null || notMeasured(value)) return named;
  if (
    value === 0 ||
    value === false ||
    (typeof value === 'string' && /^(?:none|no|0)$/i.test(value.trim()))
  ) {
    return 0;
  }
  const bare = typeof value === 'number' || (typeof value === 'string' && writtenNumber(value) !== null);
  const length = typeof value === 'string' && !bare ? writtenAmount(value, 'length') : null;
  if (length !== null && length >= 0 && length <= LONGEST_RIBBON_M) return length;
  fields.fault(
    'ribbon',
    value,
    bare ? 'has no unit' : 'must be a length of at most 1 m with its unit',
    'It counts as not measured: write ribbonIn, ribbonCm or a text such as "1.5 in".',
  );
  return null;
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
