import { formatQuantity, type QuantityKind } from '../base/quantity.ts';

/** A figure in US units with the metric one behind it; `not measured` for null. `places`: digits after the mark. */
export function both(kind: QuantityKind, value: number | null, places?: number): string {
  if (value === null) return 'not measured';
  if (!Number.isFinite(value)) return 'none';
  const wanted = places ?? (kind === 'length' ? 1 : undefined);
  const digits = wanted === undefined ? {} : { digits: wanted };
  return `${formatQuantity(kind, value, 'us', digits)} (${formatQuantity(kind, value, 'metric', digits)})`;
}

/** A label and what stands behind it. */
export function pair(label: string, text: string): string {
  return `${label.padEnd(17)} ${text}`;
}

/** Rows in columns as wide as their widest entry. */
export function columns(titles: readonly string[], rows: readonly (readonly string[])[]): string[] {
  const widths = titles.map((title, i) =>
    rows.reduce((width, row) => Math.max(width, row[i]!.length), title.length),
  );
  return [titles, ...rows].map((row) =>
    row
      .map((text, i) => text.padEnd(widths[i]!))
      .join('  ')
      .trimEnd(),
  );
}
