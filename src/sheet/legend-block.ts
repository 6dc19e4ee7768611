import { colorOf } from '../drawing/inks.ts';
import type { LegendEntry, Sample } from '../drawing/legend.ts';
import { boxed, lettered, paperPen } from './brush.ts';
import { shortened, wrappedTo } from './lettering.ts';
import type { Frame, PaperPart } from './page.ts';
import { symbolParts } from './projection.ts';
import { WORDS } from './words.ts';

type RampEntry = Extract<LegendEntry, { kind: 'ramp' }>;
type MarkEntry = Extract<LegendEntry, { kind: 'mark' }>;

export interface LaidLegend {
  readonly parts: readonly PaperPart[];
  /** What found no room. */
  readonly rest: readonly LegendEntry[];
}

/** Narrowest column of a legend at the smallest lettering, millimetres. */
const COLUMN_MM = 42;

/** Lays a legend in columns into a box, from above to below and left to right. */
export function legendBlock(entries: readonly LegendEntry[], box: Frame, f: number): LaidLegend {
  const parts: PaperPart[] = [];
  const top = box.y + 5 * f;
  const foot = box.y + box.h - 4 * f;
  parts.push(lettered([box.x, top - 1.4 * f], WORDS.legend, 2.8 * f, { bold: true }));
  const columns = Math.max(1, Math.floor(box.w / (COLUMN_MM * f)));
  const width = box.w / columns;
  let column = 0;
  let y = top;
  for (const [i, entry] of entries.entries()) {
    const laid = (x: number, at: number): { parts: readonly PaperPart[]; height: number } =>
      entry.kind === 'ramp'
        ? rampEntry(entry, x, at, width - 3 * f, f)
        : markEntry(entry, x, at, width - 3 * f, f);
    const height = laid(0, 0).height;
    if (y + height > foot && y > top) {
      column++;
      y = top;
    }
    if (column >= columns || y + height > foot) {
      parts.push(lettered([box.x, box.y + box.h - 1.2 * f], WORDS.legendGoesOn, 2 * f, { ink: 'soft' }));
      return { parts, rest: entries.slice(i) };
    }
    parts.push(...laid(box.x + column * width, y).parts);
    y += height;
  }
  return { parts, rest: [] };
}

const SAMPLE_MM = 9;

function markEntry(
  entry: MarkEntry,
  x: number,
  y: number,
  width: number,
  f: number,
): { parts: PaperPart[]; height: number } {
  const size = 2.4 * f;
  const textX = x + SAMPLE_MM * f + 2 * f;
  const { lines } = wrappedTo(entry.words, size, false, x + width - textX, 3);
  const height = Math.max(4.5 * f, lines.length * 3 * f + 1.5 * f);
  const middle = y + height / 2;
  const first = middle + size * 0.36 - ((lines.length - 1) * 3 * f) / 2;
  return {
    height,
    parts: [
      ...sampleParts(entry.sample, x, middle, f),
      ...lines.map((line, i) => lettered([textX, first + i * 3 * f], line, size)),
    ],
  };
}

/** The sample in its true pens and symbol sizes, centred in its column. */
function sampleParts(sample: Sample, x: number, y: number, f: number): PaperPart[] {
  const width = SAMPLE_MM * f;
  const middle = x + width / 2;
  const parts: PaperPart[] = [];
  if (sample.box) {
    const { fill, opacity, pen } = sample.box;
    parts.push(
      boxed({ x: x + 0.5, y: y - 1.7 * f, w: width - 1, h: 3.4 * f }, { fill, fillOpacity: opacity, pen }),
    );
  }
  if (sample.round) {
    const { fill, opacity, pen } = sample.round;
    parts.push({
      kind: 'circle',
      at: [middle, y],
      radiusMm: 2.1 * f,
      pen: paperPen(pen),
      ...(fill && { fill: colorOf(fill, 'paper') }),
      ...(opacity !== undefined && { fillOpacity: opacity }),
    });
  }
  if (sample.line) {
    parts.push({
      kind: 'path',
      lines: [
        [
          [x, y],
          [x + width, y],
        ],
      ],
      closed: false,
      pen: paperPen(sample.line),
    });
  }
  const onLine = sample.line && sample.symbols.length > 0;
  const places = onLine ? [x + width * 0.2, middle, x + width * 0.8] : [middle];
  for (const symbol of sample.symbols) {
    for (const place of places) parts.push(...symbolParts(symbol, [place, y]));
  }
  return parts;
}

/** A band of colour from the lowest to the highest pressure, with figures below. */
function rampEntry(
  entry: RampEntry,
  x: number,
  y: number,
  width: number,
  f: number,
): { parts: PaperPart[]; height: number } {
  const size = 2.4 * f;
  const each = width / entry.stops.length;
  const barY = y + 4.2 * f;
  const barH = 3 * f;
  const parts: PaperPart[] = [lettered([x, y + 2.6 * f], entry.words, size)];
  entry.stops.forEach((stop, i) => {
    const cell = { x: x + i * each, y: barY, w: each, h: barH };
    parts.push(boxed(cell, { fill: stop.color, pen: { ink: 'line', widthMm: 0.13 } }));
    const text = shortened(stop.figure, 2.2 * f, false, each - 0.4);
    parts.push(lettered([cell.x + each / 2, barY + barH + 2.8 * f], text, 2.2 * f, { anchor: 'middle' }));
  });
  return { parts, height: 11.8 * f };
}
