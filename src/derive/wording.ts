import { formatQuantity, type QuantityKind, type UnitSystem } from '../base/quantity.ts';

/** Share of a limit by which a figure may miss it before anything is said: no gauge reads finer. */
export const LIMIT_TOLERANCE = 0.005;

export function isBelow(value: number, limit: number): boolean {
  return value < limit - Math.abs(limit) * LIMIT_TOLERANCE;
}
export function isAbove(value: number, limit: number): boolean {
  return value > limit + Math.abs(limit) * LIMIT_TOLERANCE;
}

/** A count with its noun, such as `1 outlet` or `3 outlets`. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** The word that fits a count. */
export function agree(count: number, one: string, many: string): string {
  return count === 1 ? one : many;
}

/** Two different figures as text; with more digits where they would read alike. */
export function twoFigures(kind: QuantityKind, a: number, b: number, units: UnitSystem): [string, string] {
  const plain: [string, string] = [formatQuantity(kind, a, units), formatQuantity(kind, b, units)];
  if (a === b || plain[0] !== plain[1] || !Number.isFinite(a) || !Number.isFinite(b)) return plain;
  for (let digits = digitsOf(plain[0]) + 1; digits <= 6; digits++) {
    const finer: [string, string] = [
      formatQuantity(kind, a, units, { digits }),
      formatQuantity(kind, b, units, { digits }),
    ];
    if (finer[0] !== finer[1]) return finer;
  }
  return plain;
}

function digitsOf(text: string): number {
  return /\.(\d+)/.exec(text)?.[1]?.length ?? 0;
}

/** Names in a row, the first few of many. */
export function listed(names: readonly string[], most = 5): string {
  if (names.length <= most) return names.join(', ');
  return `${names.slice(0, most).join(', ')} and ${names.length - most} more`;
}

/** A source as a person may be shown it, without the remarks that catalogs keep on how a value was come by. */
export function shownSource(source: string): string {
  if (!/from memory|to be checked/i.test(source)) return source;
  const rest = source
    .replace(/\s*\((?:from memory|to be checked|[,;\s])+\)/gi, '')
    .replace(/[,;:]?\s*(?:from memory|to be checked)/gi, '')
    .trim();
  if (rest === '' || /^common practice$/i.test(rest)) return 'common practice, typical values';
  return rest;
}

/** The text with a capital at its head. */
export function capitalised(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
