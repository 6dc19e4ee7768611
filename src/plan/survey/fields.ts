import type { Point } from '../../base/point.ts';
import { shown, type Notices } from '../check.ts';
import { isObject, type JsonObject } from '../json.ts';
import { LARGEST } from '../schema.ts';
import { unitNamed, writtenAmount, writtenNumber, type Kind, type SurveyUnits, type Unit } from './units.ts';

/** Words that say that nobody measured it. */
const NOT_MEASURED =
  /^(?:|\?+|-+|unknown|not (?:known|measured|recorded|taken|visible)|unmeasured|n\/?a|tbd|null)$/i;

/** Whether a value stands for "not measured": missing, `null`, or a word that says so. */
export function notMeasured(value: unknown): boolean {
  return (
    value === undefined || value === null || (typeof value === 'string' && NOT_MEASURED.test(value.trim()))
  );
}

/** Field names are compared without capitals, blanks, hyphens and underscores. */
function plain(name: string): string {
  return name.toLowerCase().replace(/[\s_-]/g, '');
}

/** What the parts of a survey's reader share: units, notices, and what has been said once already. */
export class SurveyContext {
  private readonly said = new Set<string>();
  private readonly leftover = new Map<string, { where: string; value: unknown; count: number }>();

  constructor(
    readonly units: SurveyUnits,
    readonly notices: Notices,
  ) {}

  /** Adds a notice the first time only that `key` comes up. */
  once(key: string, where: string, what: string, todo: string): void {
    if (this.said.has(key)) return;
    this.said.add(key);
    this.notices.add(where, what, todo);
  }

  /** Remembers a field that nothing reads; alike fields of many records make one notice. */
  unread(where: string, value: unknown): void {
    const key = where.replace(/\[\d+\]/g, '[]');
    const seen = this.leftover.get(key);
    if (seen) seen.count++;
    else this.leftover.set(key, { where, value, count: 1 });
  }

  /** Reports the fields that nothing has read. */
  reportUnread(): void {
    for (const { where, value, count } of this.leftover.values()) {
      const others = count > 1 ? `, and ${count - 1} more like it` : '';
      this.notices.add(
        where,
        `${shown(value)} was not understood and is not in the plan${others}`,
        'Type it into the notes if it matters.',
      );
    }
    this.leftover.clear();
  }

  /** A cursor over an object; `null`, with a notice unless it is merely absent, for anything else. */
  fields(value: unknown, where: string): Fields | null {
    if (isObject(value)) return new Fields(value, where, this);
    if (!notMeasured(value)) {
      this.notices.add(
        where,
        `is ${shown(value)} but must be an object`,
        'It was left out: correct the file.',
      );
    }
    return null;
  }

  /** The items of a list with their places; nothing, with a notice unless it is merely absent, for anything else. */
  items(value: unknown, where: string): { value: unknown; where: string }[] {
    if (Array.isArray(value))
      return value.map((item: unknown, i) => ({ value: item, where: `${where}[${i}]` }));
    if (isObject(value)) return [{ value, where }];
    if (!notMeasured(value)) {
      this.notices.add(where, `is ${shown(value)} but must be a list`, 'It was left out: correct the file.');
    }
    return [];
  }

  /** A place written as `[x, y]`, `[x, y, z]` or `{x, y}`, metres; `null` with a notice. */
  point(value: unknown, where: string): Point | null {
    const [x, y] = isObject(value)
      ? [value['x'], value['y']]
      : Array.isArray(value)
        ? (value as unknown[])
        : [];
    const east = this.amount(x, 'length', this.units.length, where);
    const north = this.amount(y, 'length', this.units.length, where);
    if (typeof east === 'number' && typeof north === 'number') return [east, north];
    this.notices.add(
      where,
      `${shown(value)} is not a place [x, y]`,
      'Measure the place and correct the file.',
    );
    return null;
  }

  /** A number in SI, from a number or a written amount; `null` when not measured, `undefined` when unreadable. */
  amount(value: unknown, kind: Kind, unit: Unit | null, where: string): number | null | undefined {
    if (notMeasured(value)) return null;
    const number = typeof value === 'string' ? writtenNumber(value) : value;
    if (typeof value === 'string' && number === null) return writtenAmount(value, kind) ?? undefined;
    if (typeof number !== 'number' || !Number.isFinite(number)) return undefined;
    if (!unit) {
      this.once(
        `no unit of ${kind}`,
        where,
        `the unit of ${kind} is not named, so these figures count as not measured`,
        `Name it under units.${kind}.`,
      );
      return null;
    }
    // Adding zero turns the file's -0.0 into 0.
    return number * unit.factor + 0;
  }
}

/** A cursor over one object of a survey: takes fields by any of their names and knows which were not taken. */
export class Fields {
  private readonly byName = new Map<string, string>();
  private readonly open: Set<string>;

  constructor(
    readonly source: JsonObject,
    readonly where: string,
    readonly context: SurveyContext,
  ) {
    for (const key of Object.keys(source)) this.byName.set(plain(key), key);
    this.open = new Set(Object.keys(source));
  }

  /** The field's place in the file. */
  place(name: string): string {
    const key = this.byName.get(plain(name)) ?? name;
    return this.where === '' ? key : `${this.where}.${key}`;
  }

  has(name: string): boolean {
    return this.byName.has(plain(name));
  }

  /** The value of the first of the names that is there, and counts all of them as read. */
  take(...names: readonly string[]): unknown {
    let found: unknown;
    for (const name of names) {
      const key = this.byName.get(plain(name));
      if (key === undefined) continue;
      this.open.delete(key);
      if (found === undefined || notMeasured(found)) found = this.source[key];
    }
    return found;
  }

  /** A text, also from a number; `null` when not measured. */
  text(...names: readonly string[]): string | null {
    const value = this.take(...names);
    if (notMeasured(value)) return null;
    if (typeof value === 'string') return value.trim();
    if (typeof value === 'number') return String(value);
    this.fault(names[0]!, value, 'must be a text', 'It counts as not measured: type it again.');
    return null;
  }

  /** Yes or no, also as a word; `null` when not measured. */
  yesNo(...names: readonly string[]): boolean | null {
    const value = this.take(...names);
    if (notMeasured(value)) return null;
    if (typeof value === 'boolean') return value;
    if (
      value === 1 ||
      (typeof value === 'string' && /^(?:yes|y|true|present|installed)$/i.test(value.trim()))
    )
      return true;
    if (value === 0 || (typeof value === 'string' && /^(?:no|n|none|false|absent)$/i.test(value.trim())))
      return false;
    this.fault(names[0]!, value, 'must be true or false', 'It counts as not measured: type it again.');
    return null;
  }

  /** A bare number in its own unit (degrees, percent); `null` when not measured. */
  number(...names: readonly string[]): number | null {
    const value = this.take(...names);
    if (notMeasured(value)) return null;
    const number =
      typeof value === 'string' ? writtenNumber(value.replace(/(?:[%\u00b0]|deg(?:rees)?)\s*$/i, '')) : value;
    if (typeof number === 'number' && Number.isFinite(number)) return number + 0;
    this.fault(names[0]!, value, 'must be a number', 'It counts as not measured: type it again.');
    return null;
  }

  /**
   * A length, flow or pressure in SI by its stems: stem `min` finds `min`, `minGpm`, `minLph`; the empty stem finds
   * `gpm`, `lph`. A unit in the name counts, except for the survey's usual gpm and psi: there `units` rules.
   */
  quantity(kind: Kind, ...stems: readonly string[]): number | null {
    for (const [name, key] of this.byName) {
      const stem = stems.find(
        (s) => name === s || (name.startsWith(s) && unitNamed(kind, name.slice(s.length))),
      );
      if (stem === undefined || name === '') continue;
      const value = this.source[key];
      this.open.delete(key);
      if (notMeasured(value)) continue;
      const amount = this.context.amount(
        value,
        kind,
        this.unitFor(kind, name.slice(stem.length)),
        this.place(key),
      );
      if (amount === null) continue;
      const least = kind === 'length' ? -LARGEST[kind] : 0;
      if (amount !== undefined && amount >= least && amount <= LARGEST[kind]) return amount;
      const wanted =
        amount === undefined
          ? `must be a ${kind}`
          : amount < 0 && least === 0
            ? 'must not be negative'
            : 'is out of all bounds';
      this.fault(key, value, wanted, 'It counts as not measured: type it again.');
    }
    return null;
  }

  /** A length above zero in metres, such as a radius or a canopy; `null` when not measured. */
  size(...stems: readonly string[]): number | null {
    const size = this.quantity('length', ...stems);
    if (size === null || size > 0) return size;
    this.fault(stems[0]!, size, 'must be above zero', 'It counts as not measured: type it again.');
    return null;
  }

  private unitFor(kind: Kind, suffix: string): Unit | null {
    const named = this.context.units[kind];
    const own = suffix === '' ? null : unitNamed(kind, suffix);
    if (!own) return named;
    if (!named || own.factor === named.factor) return own;
    if (suffix !== 'gpm' && suffix !== 'psi') return own;
    this.context.once(
      `named ${suffix}`,
      this.where,
      `fields named ${suffix} are read in ${named.name}, as units.${kind} says`,
      `Correct units.${kind} if the figures are in ${suffix}.`,
    );
    return named;
  }

  /** Fields that nothing has taken. */
  rest(): [key: string, value: unknown][] {
    return [...this.open].map((key) => [key, this.source[key]]);
  }

  /** Reports the fields that nothing has taken. */
  close(): void {
    for (const [key, value] of this.rest()) {
      if (!notMeasured(value)) this.context.unread(this.place(key), value);
    }
    this.open.clear();
  }

  fault(name: string, value: unknown, wanted: string, todo: string): void {
    this.context.notices.add(this.place(name), `is ${shown(value)} but ${wanted}`, todo);
  }

  /** Where the object lies: its `x, y`, or a place under `xy`, `at` or the like; `null` when it has none. */
  at(): Point | null {
    const value = this.take('xy', 'at', 'position', 'point', 'location');
    const x = this.take('x', 'east');
    const y = this.take('y', 'north');
    if (!notMeasured(value)) return this.context.point(value, this.place('xy'));
    return notMeasured(x) || notMeasured(y) ? null : this.context.point([x, y], this.where);
  }
}
